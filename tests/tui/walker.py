"""A whole job done by rule: good answers for the bow receptacle, and a walk up to any step, on a log in memory."""

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path

from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session.answers import PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.commands import Accept, Command, Deviate, Finish, NamePart, Start, Take
from engine.session.gates import current_step
from engine.session.outcome import Recorded
from engine.session.runner import Runner
from engine.session.state import State
from engine.shipped import find, folder
from engine.view.models import StepView
from engine.view.step import step_view

_CLEAN = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml").actions
GOOD = {take.entry: take.text for take in _CLEAN if isinstance(take, Take)}
"""Answers that pass, for the boat of the demo: those of the clean sample."""
WAITED_S = {
    take.entry: wait.seconds for wait, take in pairwise(_CLEAN) if isinstance(wait, PassTime) and isinstance(take, Take)
}
"""How long the clean sample waits before it gives an answer [s]."""


class MemoryLog:
    """A log that keeps nothing: the screens are tested here, the disk elsewhere."""

    def __init__(self) -> None:
        self.head, self.count, self.path, self.set_aside = "0" * 64, 0, Path("memory.toml"), None
        self.full = False

    def append(self, items: list[object]) -> None:
        if self.full:
            from engine.session.trouble import NotRecorded

            raise NotRecorded("the disk is full; the entry is not in the log")
        self.count += len(items)

    def move(self, folder: Path) -> "MemoryLog":
        return MemoryLog()

    def close(self) -> None:
        pass


def bow_receptacle() -> Procedure:
    return load(find("bow-receptacle"))


def runner(procedure: Procedure | None = None, *, demo: bool = True) -> Runner:
    """Return a job that has just begun, on a log in memory."""
    clock = GivenClock(datetime(2025, 6, 1, 9, tzinfo=UTC), step_seconds=2)
    new = Runner(procedure or bow_receptacle(), MemoryLog(), State(), clock)  # type: ignore[arg-type]
    assert isinstance(new.send(Start(asset="Grey Heron", person="A. B.", demo=demo)), Recorded)
    return new


def view_of(job: Runner, step: str) -> StepView:
    return step_view(job.procedure, job.state, step, job.clock.glance())


def answer(job: Runner, entry: str) -> str:
    """Return a good answer, once its time is there: from the list, or the likely middle, the first choice, yes."""
    if isinstance(job.clock, GivenClock):
        job.clock.pass_time(WAITED_S.get(entry, 0.0))
    if entry in GOOD:
        return GOOD[entry]
    asked = job.procedure.entry_by_id[entry]
    if asked.unit == "yes/no":
        return "yes"
    if asked.choices:
        return asked.choices[0]
    if asked.unit == "words":
        return "as found"
    return likely(job, entry)


def likely(job: Runner, entry: str) -> str:
    asked = job.procedure.entry_by_id[entry]
    low, high = asked.likely or (1.0, 1.0)
    from engine.quantity import show

    text = show((low + high) / 2, asked.unit, both=False)
    return f"+{text}" if asked.signed else text


def commands(job: Runner, step: str) -> Iterator[Command]:
    """Yield what a person does on a step, looking at it again each time."""
    for part in view_of(job, step).parts:
        yield NamePart(step, part.id)
    given = 0
    while rows := [row for row in view_of(job, step).rows if row.state == "open"]:
        given += 1
        assert given < 100, f"{step} asks for {rows[0].id} again and again"
        yield Take(rows[0].id, answer(job, rows[0].id))
    for verdict in view_of(job, step).verdicts:
        if verdict.needs == "accept":
            yield Accept(step, verdict.key, "accepted in a test", "AB")
        elif verdict.needs == "deviate":
            yield Deviate(step, verdict.key, "gone past in a test", "AB")
    yield Finish(step)


def walk(job: Runner, until: str = "") -> list[str]:
    """Do the job up to a step, or to its end; return the steps that were done."""
    done: list[str] = []
    while (step := current_step(job.procedure, job.state, job.clock.glance())) and step != until:
        for command in commands(job, step):
            outcome = job.send(command)
            assert isinstance(outcome, Recorded), (step, command, outcome)
        done.append(step)
    return done
