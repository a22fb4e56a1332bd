"""A job as a hypothesis state machine: any commands in any order, and a ledger that trusts no gate."""

import random
from functools import cache

from desk import Desk, on_the_way
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test
from walking import REASONS, SETS_S, WAITS_S, Helper, any_text, good_texts, spoiling

from engine.session import commands as c
from engine.session.outcome import Recorded

PLACES = st.integers(0, 10_000)
"""Says which of a list is meant, whatever its length."""

WAITS = st.sampled_from(WAITS_S)
ANSWERS = st.sampled_from([None, 0, 1])


class JobMachine(RuleBasedStateMachine):
    """Commands to one job. ``name`` is the procedure's; the desk fails as soon as the ledger disagrees."""

    name = ""
    desk: Desk

    def __init__(self) -> None:
        super().__init__()
        self.dice = random.Random(0)

    @initialize(place=PLACES, share=st.sampled_from([0.0, 0.2, 1.0]))
    def begin(self, place: int, share: float) -> None:
        """Begin anew, anywhere on the way, or near the end, where a job can be closed soon."""
        desks = on_the_way(self.name)
        last = max(1, round(len(desks) * share))
        self.desk = desks[0 if share == 0 else len(desks) - 1 - place % last].copy()

    def entry(self, place: int) -> str:
        entries = list(self.desk.work.entry_by_id)
        return entries[place % len(entries)]

    def given(self, place: int) -> str:
        given = list(self.desk.state.given) or [self.entry(place)]
        return given[place % len(given)]

    def step(self, place: int) -> str:
        return self.desk.work.steps[place % len(self.desk.work.steps)].id

    def text(self, entry: str, place: int) -> str:
        if place % 3 == 0:
            return good_texts(self.name)[entry]
        return any_text(self.name, self.desk.work.entry_by_id[entry], random.Random(place))

    @rule(times=st.integers(1, 25), clean=st.booleans(), place=PLACES)
    def go_on(self, times: int, clean: bool, place: int) -> None:
        helper = Helper(self.desk, random.Random(place), clean=clean)
        for _ in range(times):
            if not self.desk.state.over:
                helper.on()

    @rule(place=PLACES)
    def come_to_what_spoils(self, place: int) -> None:
        """Go on until a proof may grow too old."""
        helper, spoils = Helper(self.desk, random.Random(place), clean=True), spoiling(self.name)
        for _ in range(30 if spoils else 0):
            if self.desk.state.over or helper.at() in spoils:
                break
            helper.on()

    @rule(entry=PLACES, text=PLACES, answer=ANSWERS)
    def take(self, entry: int, text: int, answer: int | None) -> None:
        self.desk.send(c.Take(self.entry(entry), self.text(self.entry(entry), text), answer))

    @rule(entry=PLACES, text=PLACES, answer=ANSWERS)
    def correct(self, entry: int, text: int, answer: int | None) -> None:
        name = self.given(entry)
        self.desk.send(c.Correct(name, self.text(name, text), "typed it wrong", answer))

    @rule(entry=PLACES)
    def leave_out(self, entry: int) -> None:
        self.desk.send(c.SkipEntry(self.entry(entry), "no instrument"))

    @rule(step=PLACES, text=PLACES)
    def take_several(self, step: int, text: int) -> None:
        one = self.text(self.entry(text), text)
        self.desk.send(c.TakeSeveral(self.step(step), f"{one}; {one}"))

    @rule(step=PLACES)
    def end_step(self, step: int) -> None:
        self.desk.send(c.Finish(self.step(step)))

    @rule(step=PLACES)
    def redo(self, step: int) -> None:
        self.desk.send(c.Redo(self.step(step)))

    @rule(step=PLACES, part=PLACES)
    def name_part(self, step: int, part: int) -> None:
        parts = [p.id for p in self.desk.work.step_by_id[self.step(step)].parts] or ["none"]
        self.desk.send(c.NamePart(self.step(step), parts[part % len(parts)]))

    @rule(found=PLACES, reason=st.sampled_from(REASONS))
    def accept(self, found: int, reason: str) -> None:
        if keys := list(self.desk.state.findings):
            self.desk.send(c.Accept(*keys[found % len(keys)], reason))

    @rule(found=PLACES, reason=st.sampled_from(REASONS), initials=st.sampled_from(["AT", ""]))
    def deviate(self, found: int, reason: str, initials: str) -> None:
        if keys := list(self.desk.state.findings):
            self.desk.send(c.Deviate(*keys[found % len(keys)], reason, initials))

    @rule(person=st.sampled_from("ABCD"))
    def hand_over(self, person: str) -> None:
        self.desk.send(c.HandOver(person))

    @rule(seconds=WAITS, back=st.booleans())
    def leave(self, seconds: float, back: bool) -> None:
        self.desk.send(c.Leave())
        self.desk.wait(seconds)
        if back:
            self.desk.send(c.Return())

    @rule(seconds=WAITS, set_by_s=st.sampled_from([0.0, *SETS_S]))
    def wait(self, seconds: float, set_by_s: float) -> None:
        self.desk.wait(seconds, set_by_s)

    @rule(seconds=WAITS, reboot=st.booleans())
    def crash(self, seconds: float, reboot: bool) -> None:
        self.desk.crash(seconds, reboot=reboot)

    @rule(profile=st.sampled_from(["industry", "house", "none"]))
    def choose_profile(self, profile: str) -> None:
        self.desk.send(c.ChooseProfile(profile))

    @rule(instrument=st.sampled_from(["dmm_v", "clamp"]), percent=st.sampled_from([0.1, 5.0, 99.0]))
    def declare(self, instrument: str, percent: float) -> None:
        self.desk.send(c.DeclareInstrument(instrument, "m", percent, 2, 0.01))

    @rule()
    def close(self) -> None:
        if isinstance(self.desk.send(c.Close()), Recorded):
            assert self.desk.ledger.over

    def teardown(self) -> None:
        if hasattr(self, "desk"):
            self.desk.check()
            CLOSED[self.name] = CLOSED.get(self.name, 0) + self.desk.state.closed


CLOSED: dict[str, int] = {}
"""How many sequences of each procedure ended with the job closed."""


@cache
def machine_of(name: str) -> type[JobMachine]:
    return type(f"JobMachine_{name.replace('-', '_')}", (JobMachine,), {"name": name})


def run_machine(name: str, sequences: int, steps: int, seed: int | None = None) -> None:
    """Try that many sequences of so many steps; raises with a dishonest one, the shortest if no seed is given."""
    asked = settings(
        max_examples=sequences,
        stateful_step_count=steps,
        deadline=None,
        database=None,
        derandomize=seed is None,
        phases=tuple(Phase) if seed is None else (Phase.generate,),
        suppress_health_check=list(HealthCheck),
    )
    machine = machine_of(name)
    if seed is not None:
        machine._hypothesis_internal_use_seed = seed
    run_state_machine_as_test(machine, settings=asked)
