"""A job at a desk, on a journal in memory and with true time known: every accepted command goes into the ledger too.

The only file of this folder that knows the engine's insides.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, cast

from engine.procedure.load import load
from engine.procedure.model import Entry, Procedure, Step
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime, load_answers
from engine.session.gates import applicable, current_step, open_entries
from engine.session.journal import Journal
from engine.session.outcome import Outcome, Recorded
from engine.session.runner import Runner
from engine.session.state import State
from engine.shipped import find, folder
from tests.ledger.ledger import Ledger
from tests.ledger.world import world_of

BEGAN = datetime(2026, 5, 2, 9, tzinfo=UTC)

PACE_S = 20.0
"""True time from one command to the next [s]."""


@dataclass(frozen=True, slots=True)
class Wait:
    """True time goes by; meanwhile somebody may set the clock by ``set_by_s`` [s]."""

    seconds: float
    set_by_s: float = 0.0


Action = c.Command | Wait


class TrueClock:
    """Knows the true time; what it shows can be set, its steady seconds run on."""

    def __init__(self) -> None:
        self.true_s = self.ahead_s = 0.0

    def now(self) -> datetime:
        return BEGAN + timedelta(seconds=self.true_s + self.ahead_s)

    glance = now

    def mono(self) -> float:
        return self.true_s


class InMemory:
    """A journal that counts its events and keeps none: nobody resumes it."""

    path = None
    head = ""
    set_aside = None

    def __init__(self, count: int = 0) -> None:
        self.count = count

    def append(self, events: Sequence[Mapping[str, Any]]) -> str:
        self.count += len(events)
        return ""

    def close(self) -> None:
        """Nothing to let go of."""


class Desk:
    """A job, its ledger, and ``did``: every action so far, refused ones left out."""

    def __init__(self, work: Procedure) -> None:
        self.work, self.clock, self.ledger = work, TrueClock(), Ledger(world_of(work.id))
        self.takes_s = {s.id: s.takes_s for s in work.steps}
        self.did: list[Action] = []
        self.runner = Runner(work, cast(Journal, InMemory()), State(), self.clock)

    @property
    def state(self) -> State:
        return self.runner.state

    def copy(self) -> "Desk":
        """Return a desk that goes on from here on its own."""
        other = object.__new__(Desk)
        other.work, other.takes_s, other.clock = self.work, self.takes_s, TrueClock()
        vars(other.clock).update(vars(self.clock))
        other.ledger, other.did = self.ledger.copy(), list(self.did)
        journal = cast(Journal, InMemory(self.runner.count))
        other.runner = Runner(self.work, journal, self.state.copy(), other.clock)
        return other

    def do(self, action: Action) -> Outcome | None:
        """Send a command, or let time go by."""
        if isinstance(action, Wait):
            self.clock.true_s += action.seconds
            self.clock.ahead_s += action.set_by_s
            self.did.append(action)
            return None
        self.clock.true_s += PACE_S
        here, again = self.at() or "", frozenset(self.state.rejudged)
        outcome = self.runner.send(action)
        if isinstance(outcome, Recorded):
            self.did.append(action)
            again |= {step for event in outcome.events for step in getattr(event, "rejudged", ())}
            belongs = self.belongs() if isinstance(action, c.Close) else ()
            now_s, takes_s = self.clock.true_s, self.takes_s
            self.ledger.take(now_s, action, outcome.events, here=here, again=again, takes_s=takes_s, belongs=belongs)
        return outcome

    def at(self) -> str | None:
        """Return the step at which the job stands."""
        return current_step(self.work, self.state, self.clock.glance()) if self.state.procedure else None

    def belongs(self) -> frozenset[str]:
        """Return the steps of this job."""
        return frozenset(s.id for s in applicable(self.work, self.state))

    def asked(self, step: Step) -> tuple[Entry, ...]:
        """Return the entries that a step still asks for."""
        return open_entries(self.work, self.state, step)


@cache
def shipped_procedure(name: str) -> Procedure:
    return load(find(name))


@cache
def clean_jobs(name: str) -> tuple[Answers, ...]:
    """Return the clean sample jobs of a procedure, by file name."""
    files = sorted(folder("sample_sessions").glob("*-clean.answers.toml"))
    return tuple(answers for answers in map(load_answers, files) if answers.procedure == name)


def played(work: Procedure, answers: Answers) -> Iterator[Desk]:
    """Play a clean job; yield the one desk after each of its actions.

    Raises:
        AssertionError: if an action does not stand.
    """
    desk = Desk(work)
    for action in (answers.start, *answers.actions):
        for one in _actions(action):
            outcome = desk.do(one)
            assert outcome is None or isinstance(outcome, Recorded), f"{one}: {outcome}"
        yield desk


def _actions(action: c.Command | Away | PassTime) -> tuple[Action, ...]:
    if isinstance(action, PassTime):
        return (Wait(action.seconds),)
    return (c.Leave(action.line), Wait(action.seconds), c.Return()) if isinstance(action, Away) else (action,)
