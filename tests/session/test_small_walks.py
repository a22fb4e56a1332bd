"""Random commands on a small job full of traps, held against a ledger that knows nothing of the state machine."""

import random
from collections.abc import Iterable
from datetime import datetime, timedelta

import pytest
from jobs import Session, limit, procedure, reading, step

from engine.session import commands as c
from engine.session import events as e
from engine.session.apply import fold
from engine.session.codec import from_flat, to_flat
from engine.session.decide import decide
from engine.session.decide_step import wanting
from engine.session.events import Stamped
from engine.session.gates import applicable, current_step, open_entries
from engine.session.judge import judge
from engine.session.outcome import Decided, Refusal

WALKS = 200
COMMANDS = 90

KIND = 'fact.kind = { ask = "which kind", one_of = ["lead", "lithium"] }'
OPENS = '\nopens = { cover = "cover back on" }'
LITHIUM = "when = 'kind == \"lithium\"'"
JOB = procedure(
    step("ask", "", KIND)
    + step("source", 'works = ["joint"]', reading("v") + OPENS)
    + step("dead", 'hold = "firm"\nproves_dead = ["wire"]', reading("d") + limit("abs(d) <= 0.1 V"))
    + step("cut", 'hands_on = ["wire"]', reading("depth", "mm", LITHIUM) + reading("side", "mm"))
    + step("guard", f'hold = "firm"\n{LITHIUM}', reading("g") + limit("g <= v"))
    + step("connect", 'needs = ["cut", "guard"]\nfeeds = ["wire"]')
    + step("load", 'hold = "hold"\nproves = ["circuit"]', reading("drop") + limit("drop <= v", "marginal"))
    + step("shut", 'closes = ["cover"]'),
)
STEPS = [s.id for s in JOB.steps]
TEXTS = {
    "kind": ["lead", "lithium", "lithium"],
    "v": ["5", "1", "9"],
    "d": ["0.00", "0.01", "12"],
    "depth": ["12"],
    "side": ["3", "4"],
    "g": ["2", "4", "8"],
    "drop": ["0.5", "3", "20"],
}


def a_command(session: Session, dice: random.Random) -> c.Command:
    state = session.state
    if state.away and dice.random() < 0.8:
        return c.Return()
    entry, name = dice.choice(list(TEXTS)), dice.choice(STEPS)
    wild: list[c.Command] = [
        c.Correct(entry, dice.choice(TEXTS[entry]), "typed it wrong"), c.Redo(name), c.HandOver(dice.choice("ABC")),
        c.Leave(), c.Return(), c.SkipEntry(entry, "no instrument"), c.ChooseProfile(dice.choice(["industry", "house"])),
        c.Take(entry, dice.choice(TEXTS[entry])), c.Finish(name), c.TakeSeveral(name, dice.choice(TEXTS[entry])),
        c.Accept(name, "limit 1", "known and watched"), c.Deviate(name, "limit 1", "known and watched", "AT"),
        c.Close(),
    ]  # fmt: skip
    if dice.random() < 0.2:
        return dice.choice(wild)
    at = current_step(JOB, state, session.now)
    if at is None:
        return c.Close()
    asked = open_entries(JOB, state, JOB.step_by_id[at])
    if asked and dice.random() < 0.9:
        return c.Take(asked[0].id, dice.choice(TEXTS[asked[0].id]))
    if (at, "limit 1") in state.findings and at in ("dead", "guard") and dice.random() < 0.5:
        return c.Take(*dice.choice([("d", "0.00"), ("g", "0.5")]))
    if (at, "limit 1") in state.findings and dice.random() < 0.3:
        return dice.choice([c.Accept(at, "limit 1", "known and watched"), c.Redo(at)])
    return c.Finish(at)


def walk(seed: int) -> Session:
    dice = random.Random(seed)
    session = Session(JOB)
    for _ in range(COMMANDS):
        if dice.random() < 0.08:
            session.now += timedelta(minutes=dice.choice([1, 11, 60, -5]))
        command, before = a_command(session, dice), fold(session.events)
        told = decide(JOB, session.state, command, session.now)
        assert session.state == before, "to decide changed the state"
        decision = session.send(command)
        assert decision == told
        if isinstance(decision, Refusal):
            assert decision.sentence
            assert session.state == before
        if session.state.over:
            break
    return session


class Ledger:
    """What a careful helper would write down: which proof holds, what was read last, what is open."""

    def __init__(self) -> None:
        self.values: dict[str, str] = {}
        self.done: set[str] = set()
        self.measured = self.proved = self.cover_off = False
        self.fixing = ""

    def walk(self, events: Iterable[Stamped]) -> None:
        last = None
        for stamped in events:
            at = datetime.fromisoformat(stamped.at)
            if last is not None and at - last > timedelta(minutes=20):
                self.measured = self.proved = False
            last = at
            self.take(stamped.event)

    def take(self, event: e.Event) -> None:
        match event:
            case e.Corrected(entry=entry):
                self.fixing = entry
            case e.Taken(entry=entry, raw=raw):
                if entry in ("depth", "side") and entry != self.fixing:
                    assert self.proved, "measured on a wire that was not proved dead"
                self.measured |= entry == "d" and entry != self.fixing
                self.values[entry], self.fixing = raw, ""
            case e.NotMeasured(entry=entry, reason=reason):
                self.values[entry] = reason
            case e.StepDone(step=name):
                self.end(name)
            case e.PersonChanged():
                self.measured = self.proved = False
            case e.Redone(voided=voided):
                self.done -= set(voided)
                if "dead" in voided:
                    self.measured = self.proved = False
            case e.Closed():
                self.close()

    def end(self, name: str) -> None:
        again = name in self.done
        self.done.add(name)
        if name == "dead":
            self.proved |= self.measured
        if name == "cut" and not again:
            assert self.proved, "cut a wire that was not proved dead"
        if name == "connect" and not again:
            self.measured = self.proved = False
        if name in ("source", "shut") and not again:
            self.cover_off = name == "source"

    def close(self) -> None:
        assert not self.cover_off
        assert abs(float(self.values["d"])) <= 0.1
        if self.values["kind"] == "lithium":
            assert float(self.values["g"]) <= float(self.values["v"])
            assert self.values.get("depth")


def prove(session: Session) -> None:
    for done in applicable(JOB, session.state):
        if done.id in session.state.done:
            assert wanting(JOB, session.state, done, judge(JOB, session.state, done)) is None, done.id
    Ledger().walk(session.events)
    assert fold(session.events) == session.state
    assert [from_flat(to_flat(stamped)) for stamped in session.events] == session.events


@pytest.mark.parametrize("block", range(10))
def test_no_walk_of_the_small_job_is_against_the_ledger(block: int) -> None:
    for seed in range(block * WALKS // 10, (block + 1) * WALKS // 10):
        prove(walk(seed))


def test_walks_of_the_small_job_do_close_on_both_branches() -> None:
    closed = [walk(seed).state for seed in range(60)]
    kinds = {state.given["kind"].value for state in closed if state.closed}
    assert kinds == {"lead", "lithium"}


def test_the_ledger_itself_finds_a_cut_without_proof() -> None:
    with pytest.raises(AssertionError, match="not proved dead"):
        Ledger().take(e.StepDone(step="cut"))
    assert isinstance(Session(JOB).send(c.Take("kind", "lead")), Decided)
