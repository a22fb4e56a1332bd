"""A session at a desk for random walks: the real runner on a journal in memory, with true time known beside it."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, cast

from ledger import Ledger

from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime, load_answers
from engine.session.apply import fold
from engine.session.codec import from_flat
from engine.session.journal import Journal
from engine.session.outcome import Asked, Outcome, Recorded, Refusal
from engine.session.runner import Runner
from engine.session.state import State
from engine.shipped import find, folder

WITHOUT_A_STEP = ("there is no ", "this procedure asks for nothing", "the job was left", "this job has ended")
"""How refusals begin that are about no step of the job."""

BEGAN = datetime(2026, 5, 2, 9, tzinfo=UTC)


@cache
def shipped_procedure(name: str) -> Procedure:
    return load(find(name))


@cache
def clean_answers(name: str) -> Answers:
    """Return the answers of the clean sample job of a procedure."""
    files = sorted(folder("sample_sessions").glob("*-clean.answers.toml"))
    return next(answers for answers in map(load_answers, files) if answers.procedure == name)


class TrueClock:
    """A clock that knows the true time; what it shows can be set forward and back, its steady seconds start anew."""

    def __init__(self) -> None:
        self.true_s = self.ahead_s = self.booted_s = 0.0

    def now(self) -> datetime:
        return BEGAN + timedelta(seconds=self.true_s + self.ahead_s)

    def glance(self) -> datetime:
        return self.now()

    def mono(self) -> float:
        return self.true_s - self.booted_s


class InMemory:
    """A journal that keeps its flat events in memory."""

    path = None
    head = ""
    set_aside = None

    def __init__(self, events: Sequence[Mapping[str, Any]] = ()) -> None:
        self.events = list(events)

    @property
    def count(self) -> int:
        return len(self.events)

    def append(self, events: Sequence[Mapping[str, Any]]) -> str:
        self.events += events
        return ""

    def close(self) -> None:
        """Nothing to let go of."""


class Desk:
    """A session, and the ledger that is told every event of it with its true time."""

    def __init__(self, work: Procedure) -> None:
        self.work, self.clock, self.ledger = work, TrueClock(), Ledger(work)
        self.ahead_s = 0.0
        self._on(InMemory(), State())

    def _on(self, journal: InMemory, state: State) -> None:
        self.journal = journal
        self.runner = Runner(self.work, cast(Journal, journal), state, self.clock)

    @property
    def state(self) -> State:
        return self.runner.state

    def send(self, command: c.Command) -> Outcome:
        """Send a command, as a face does. A refusal says something and leaves everything as it was."""
        before = (self.journal.count, len(self.state.done), len(self.state.given))
        outcome = self.runner.send(command)
        noted = self._clock_noted(before[0])
        if self.journal.count > before[0]:
            self.ahead_s = self.clock.ahead_s
        if isinstance(outcome, Recorded):
            for event in outcome.events:
                self.ledger.take(event, self.clock.true_s)
            assert self.state.items.keys() == self.ledger.open, "another thing is left to do"
        else:
            assert before == (self.journal.count - noted, len(self.state.done), len(self.state.given)), outcome
            assert isinstance(outcome, Asked | Refusal), outcome
            if isinstance(outcome, Refusal):
                self._demand_helpful(command, outcome)
        return outcome

    def _demand_helpful(self, command: c.Command, refusal: Refusal) -> None:
        """A refusal is a sentence; where a step of the job is meant, it names the step to go to and what is missing."""
        assert refusal.sentence
        about_a_step = getattr(command, "step", "") or getattr(command, "entry", "") or isinstance(command, c.Close)
        if about_a_step and not refusal.sentence.startswith(WITHOUT_A_STEP):
            assert refusal.step in self.work.step_by_id, refusal
        if any(words in refusal.sentence for words in ("needs step", "still to ", "left to do", "cannot be judged")):
            assert refusal.missing, refusal

    def _clock_noted(self, known: int) -> int:
        """Tell the ledger of a clock that was seen to be set back, whatever came of the command; return 0 or 1."""
        if len(self.journal.events) == known or self.journal.events[known]["event"] != "clock":
            return 0
        self.ledger.take(from_flat(self.journal.events[known]).event, self.clock.true_s)
        return 1

    def check(self) -> None:
        """What the session calls done is proved by the values as they stand."""
        for step in self.state.done:
            self.ledger.demand_standing_as_done(step)

    def wait(self, seconds: float, set_by_s: float = 0.0) -> None:
        """Let true time go by; meanwhile somebody may set the clock."""
        self.clock.true_s += seconds
        self.clock.ahead_s += set_by_s

    def crash(self, seconds: float, *, reboot: bool = False) -> None:
        """The program is gone, and is started again after a while: everything comes from the log.

        A clock that was set back since the last entry is never followed by a reboot here: the steady seconds start anew
        then, and nothing on the machine could tell how much time went by.
        """
        before = self.state
        self.wait(seconds)
        if reboot and self.ahead_s <= self.clock.ahead_s:
            self.clock.booted_s = self.clock.true_s - 5.0
        state = fold(from_flat(event) for event in self.journal.events)
        assert state == before, "the log says something else than the session"
        self._on(self.journal, state)
        if not state.over:
            known = self.journal.count
            self.runner._come_back()
            for event in self.journal.events[known:]:
                self.ledger.take(from_flat(event).event, self.clock.true_s)
            self.ahead_s = self.clock.ahead_s

    def copy(self) -> "Desk":
        """Return a desk that goes on from here on its own."""
        other = object.__new__(Desk)
        other.work, other.ledger, other.clock = self.work, self.ledger.copy(), TrueClock()
        vars(other.clock).update(vars(self.clock))
        other.ahead_s = self.ahead_s
        other._on(InMemory(self.journal.events), self.state.copy())
        return other


@cache
def on_the_way(name: str) -> tuple[Desk, ...]:
    """Return the clean job of a procedure as it stood after each of its actions."""
    answers = clean_answers(name)
    desk = Desk(shipped_procedure(name))
    desk.send(answers.start)
    desks = [desk.copy()]
    for action in answers.actions:
        if isinstance(action, Away | PassTime):
            if isinstance(action, Away):
                desk.send(c.Leave(action.line))
            desk.wait(action.seconds)
            if isinstance(action, Away):
                desk.send(c.Return())
        else:
            outcome = desk.send(action)
            assert isinstance(outcome, Recorded), outcome
        desks.append(desk.copy())
    assert desk.state.closed
    return tuple(one for one in desks if not one.state.over)
