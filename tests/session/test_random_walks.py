"""Random commands on the shipped procedures: no job closes with a firm hold unproved or an item left to do."""

import random
from datetime import timedelta
from functools import cache

import pytest
from jobs import Session

from engine.finding import Verdict
from engine.procedure.load import load
from engine.procedure.model import Entry, Hold, Procedure
from engine.session import commands as c
from engine.session.apply import fold
from engine.session.codec import from_flat, to_flat
from engine.session.decide_step import wanting
from engine.session.events import Closed, StepDone
from engine.session.gates import applicable, current_step, entries
from engine.session.judge import judge
from engine.session.outcome import Asked, Decided, Refusal
from engine.shipped import find, shipped

WALKS = 40
"""Walks a procedure here; the bench makes thousands."""

COMMANDS = 150
"""Commands a walk."""


@cache
def shipped_procedure(name: str) -> Procedure:
    return load(find(name))


def text_for(entry: Entry, dice: random.Random) -> str:
    if entry.unit == "yes/no":
        return dice.choice(["yes", "yes", "no"])
    if entry.unit == "choice":
        return entry.choices[0] if dice.random() < 0.8 else dice.choice(entry.choices)
    if entry.unit == "words":
        return "a few words"
    if entry.unit == "wire":
        return dice.choice(["6 AWG", "6 AWG", "8 AWG", "10 AWG", "8"])
    low, high = (entry.likely if dice.random() < 0.9 else entry.hard) or (0.0, 1.0)
    number = dice.uniform(low, high)
    from engine.quantity import from_base

    number = from_base(number, entry.unit)
    text = str(round(number)) if entry.unit == "" else f"{number:.3f}"
    return f"+{text}" if entry.signed and number >= 0 else text


def a_command(session: Session, dice: random.Random) -> c.Command:
    work, state = session.procedure, session.state
    at = current_step(work, state, session.now)
    roll = dice.random()
    if state.away:
        return c.Return() if roll < 0.8 else dice.choice([c.Leave(), c.Finish(work.steps[0].id), c.Close()])
    if at is None or roll < 0.01:
        return c.Close()
    if roll < 0.12:
        anything = dice.choice(work.steps).id
        entry = dice.choice(list(work.entry_by_id.values()))
        return dice.choice([
            c.Redo(anything), c.Finish(anything), c.Take(entry.id, text_for(entry, dice)),
            c.Correct(entry.id, text_for(entry, dice), "typed it wrong"), c.HandOver(dice.choice("ABCD")),
            c.SkipEntry(entry.id, "no instrument"), c.Leave(), c.Return(),
            c.ChooseProfile(dice.choice(["industry", "house"])), c.TakeSeveral(anything, text_for(entry, dice)),
            c.DeclareInstrument("dmm_v", "a meter", dice.choice([0.5, 5.0]), 2, 0.01), c.NamePart(anything, "none"),
        ])  # fmt: skip
    step = work.step_by_id[at]
    for entry in entries(work, state, step):
        if entry.id not in state.given and entry.id not in state.absent:
            return c.Take(entry.id, text_for(entry, dice), dice.choice([None, 0, 1]))
    for part in step.parts:
        if part.id not in state.named.get(step.id, ()):
            return c.NamePart(step.id, part.id)
    for key in judge(work, state, step):
        if dice.random() < 0.3:
            return dice.choice([
                c.Accept(step.id, key, "known and watched"), c.Deviate(step.id, key, "known and watched", "AT"),
                c.Redo(step.id),
            ])  # fmt: skip
    return c.Finish(at)


def walk(name: str, seed: int) -> Session:
    dice = random.Random(seed)
    session = Session(shipped_procedure(name))
    for _ in range(COMMANDS):
        if dice.random() < 0.05:
            session.now += timedelta(minutes=dice.choice([1, 11, 60, 900, -5]))
        before = {k: v.ended for k, v in session.state.done.items()}
        decision = session.send(a_command(session, dice))
        assert isinstance(decision, Decided | Refusal | Asked)
        if isinstance(decision, Refusal):
            assert decision.sentence
            assert {k: v.ended for k, v in session.state.done.items()} == before
        if session.state.over:
            break
    return session


def prove_honest(session: Session) -> None:
    """No step ended against its findings, and nothing closed with a firm hold unproved or an item left."""
    state = session.state
    for step_id in state.done:
        step = session.procedure.step_by_id[step_id]
        if step in applicable(session.procedure, state):
            assert wanting(session.procedure, state, step, judge(session.procedure, state, step)) is None, step_id
        if step.hold is Hold.FIRM:
            bad = [
                f
                for f in judge(session.procedure, state, step).values()
                if f.verdict in (Verdict.FAIL, Verdict.MISSING)
            ]
            assert not bad or state.done[step_id].ended, f"{step_id} stands with {bad}"
    closed = [stamped for stamped in session.events if isinstance(stamped.event, Closed)]
    if closed:
        ended = {s.event.step for s in session.events if isinstance(s.event, StepDone)}
        assert {s.id for s in applicable(session.procedure, state)} <= ended
        assert state.items == {}
        for step in applicable(session.procedure, state):
            assert wanting(session.procedure, state, step, judge(session.procedure, state, step)) is None, step.id
    assert fold(session.events) == state
    assert [from_flat(to_flat(stamped)) for stamped in session.events] == session.events


@pytest.mark.parametrize("seed", range(WALKS))
@pytest.mark.parametrize("name", [path.stem for path in shipped()])
def test_no_walk_closes_with_a_firm_hold_unproved_or_an_item_left(name: str, seed: int) -> None:
    prove_honest(walk(name, seed))


def disturbed(answers_file: str, seed: int, noise: float) -> Session:
    """Walk the answers of a clean job, with stray commands between them."""
    from engine.session.answers import Away, PassTime, load_answers
    from engine.shipped import folder

    dice = random.Random(seed)
    answers = load_answers(folder("sample_sessions") / answers_file)
    session = Session(shipped_procedure(answers.procedure))
    for action in answers.actions:
        if dice.random() < noise:
            session.send(a_command(session, dice))
        if dice.random() < noise / 4:
            session.now += timedelta(minutes=dice.choice([11, 60, 900]))
            session.send(c.Return())
        if not isinstance(action, PassTime | Away):
            session.send(action)
    return session


@pytest.mark.parametrize("noise", [0.0, 0.01, 0.03])
def test_a_disturbed_clean_job_stays_honest_and_still_closes_at_times(noise: float) -> None:
    sessions = [disturbed("grey-heron-clean.answers.toml", seed, noise) for seed in range(12)]
    for session in sessions:
        prove_honest(session)
    assert any(session.state.closed for session in sessions)
