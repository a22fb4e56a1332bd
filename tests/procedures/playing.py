"""A sample job in memory, by the real runner: played to any place, and from there on as anybody might."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any, cast

from engine.procedure.load import load
from engine.procedure.model import Entry, Procedure, Step
from engine.quantity import from_base
from engine.review.replay import replay
from engine.session import commands as c
from engine.session.answers import Action, Answers, Away, PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.codec import from_flat
from engine.session.gates import applicable, current_step, open_entries
from engine.session.journal import Journal
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, answered
from engine.session.runner import Runner, header_of
from engine.session.state import State
from engine.shipped import find, folder

BEGAN = datetime(2026, 5, 2, 9, tzinfo=UTC)
STEP_S = 20.0
"""What passes from one entry to the next [s]."""

CLEAN = {
    "bilge-float": "plover",
    "bow-receptacle": "grey-heron",
    "harness-splice": "godwit",
    "main-switch": "sandpiper",
    "nav-lights": "whimbrel",
    "outlet-12v": "tern-14",
    "panel-swap": "dunlin",
    "sensor-repin": "sanderling",
    "solar-inlet": "avocet",
    "trailer-7": "kestrel-6",
}
"""The boat or trailer of the clean sample job of each shipped procedure."""


@cache
def shipped_procedure(name: str) -> Procedure:
    return load(find(name))


@cache
def clean_answers(asset: str) -> Answers:
    return load_answers(folder("sample_sessions") / f"{asset}-clean.answers.toml")


class TrueClock:
    """A clock of which the wall time can be set; the steady seconds only go on."""

    def __init__(self) -> None:
        self.true_s = self.set_by_s = 0.0

    def now(self) -> datetime:
        return BEGAN + timedelta(seconds=self.true_s + self.set_by_s)

    glance = now

    def mono(self) -> float:
        return self.true_s


class InMemory:
    """A journal that keeps its flat events in memory."""

    path = Path()
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


class Job:
    """A job on an asset of the samples. ``texts`` are given where the clean job gives something else, by entry."""

    def __init__(self, asset: str) -> None:
        self.answers, self.clock = clean_answers(asset), TrueClock()
        self.procedure = shipped_procedure(self.answers.procedure)
        self.texts: dict[str, str] = {}
        self._on(InMemory(), State())
        assert isinstance(self.send(self.answers.start), Recorded)

    def _on(self, journal: InMemory, state: State) -> None:
        self.journal = journal
        self.runner = Runner(self.procedure, cast(Journal, journal), state, self.clock)

    def copy(self) -> "Job":
        """Return a job that goes on from here on its own."""
        other = object.__new__(Job)
        other.answers, other.procedure, other.texts, other.clock = self.answers, self.procedure, {}, TrueClock()
        vars(other.clock).update(vars(self.clock))
        other._on(InMemory(self.journal.events), self.state.copy())
        return other

    @property
    def state(self) -> State:
        return self.runner.state

    @property
    def at(self) -> str | None:
        """The step at which the job is."""
        return current_step(self.procedure, self.state, self.clock.now())

    def step(self, name: str) -> Step:
        return self.procedure.step_by_id[name]

    def send(self, command: c.Command, after_s: float = STEP_S) -> Outcome:
        self.clock.true_s += after_s
        return self.runner.send(command)

    def give(self, **texts: str) -> Outcome:
        """Give values; return what came of the last."""
        outcome: Outcome = Recorded(())
        for entry, text in texts.items():
            outcome = self.send(c.Take(entry, text, 0))
        return outcome

    def refused(self, command: c.Command) -> str:
        outcome = self.send(command)
        assert isinstance(outcome, Refusal), outcome
        return outcome.sentence

    def play(self, actions: Iterable[Action]) -> tuple[Action | None, Outcome]:
        """Do what an answers file says; return the first action that did not stand, with what was said."""
        for action in actions:
            outcome = self._pass(action) if isinstance(action, PassTime | Away) else self.send(action)
            if not isinstance(outcome, Recorded):
                return action, outcome
        return None, Recorded(())

    def _pass(self, action: PassTime | Away) -> Outcome:
        left = self.send(c.Leave(action.line)) if isinstance(action, Away) else Recorded(())
        self.clock.true_s += action.seconds
        return self.send(c.Return()) if isinstance(action, Away) else left

    def on(self, until: str = "") -> Outcome:
        """Do what is asked, as in the clean job, until a step is ended, the job is over or something is refused.

        A STOP and a proof in doubt are not answered: work stops there.
        """
        outcome: Outcome = Recorded(())
        while isinstance(outcome, Recorded) and not self.state.over and until not in self.state.done:
            outcome = self._next()
        return outcome

    def until_before(self, step: str) -> Outcome:
        """Do the same until a step is the next, or something is refused."""
        outcome: Outcome = Recorded(())
        while isinstance(outcome, Recorded) and self.at != step:
            outcome = self._next()
        return outcome

    def until_asked(self, entry: str) -> None:
        """Do the same until an entry is the next to be given."""
        while entry not in [asked.id for asked in self.asked()[:1]]:
            outcome = self._next()
            assert isinstance(outcome, Recorded), outcome

    def asked(self) -> tuple[Entry, ...]:
        """Return what is still to be given at the step that is the next."""
        return open_entries(self.procedure, self.state, self.step(self.at)) if self.at else ()

    def _next(self) -> Outcome:
        if self.at is None:
            return self.send(c.Close())
        step = self.step(self.at)
        if asked := self.asked():
            entry = asked[0]
            self.clock.true_s += _waits(self.answers).get(entry.id, 0.0)
            return self._answered(c.Take(entry.id, self.text_of(entry.id), 0))
        if unseen := [part.id for part in step.parts if part.id not in self.state.named.get(step.id, ())]:
            return self.send(c.NamePart(step.id, unseen[0]))
        if settle := next((a for a in _settled(self.answers, step.id) if self._wants(a)), None):
            return self.send(settle)
        return self._answered(c.Finish(step.id))

    def text_of(self, entry: str) -> str:
        """Return what is to be given for an entry."""
        return self.texts.get(entry) or _text(self.answers, self.procedure.entry_by_id[entry])

    def _wants(self, settle: c.Accept | c.Deviate) -> bool:
        found = self.state.findings.get((settle.step, settle.key))
        return found is not None and not found.settled

    def _answered(self, command: c.Take | c.Finish) -> Outcome:
        outcome = self.send(command)
        return self.send(answered(outcome, 0)) if isinstance(outcome, Asked) else outcome

    def hands_on_dead_only(self) -> bool:
        """Return whether each step with hands on a zone came after its isolation and its dead proof since it was fed.

        Told from the log by what each step does; no gate is asked.
        """
        off, dead = set[str](), set[str]()
        for event in self.journal.events:
            if event["event"] not in ("reading", "part_named", "step_done"):
                continue
            step = self.step(event["step"])
            off, dead = off - set(step.feeds), dead - set(step.feeds)
            if event["event"] == "step_done":
                off |= set(step.isolates)
                dead |= set(step.proves_dead) & off
                if not dead.issuperset(step.hands_on):
                    return False
        return True

    def closes_clean(self) -> bool:
        """Do all that is asked to the end; return whether the job closed clean and nothing is against its log."""
        while isinstance(outcome := self.on(), Refusal) and outcome.step in self.state.done:
            assert isinstance(self.send(c.Redo(outcome.step)), Recorded)
        assert isinstance(outcome, Recorded), outcome
        return self.state.clean and self.problems() == []

    def problems(self) -> list[str]:
        """Return what the audit has against the job so far."""
        return replay(self.procedure, [from_flat(event) for event in self.journal.events]).problems

    def log(self, to: Path) -> Path:
        """Write the job as a log and return its file."""
        clock = GivenClock(BEGAN + timedelta(seconds=STEP_S))
        rules = f"{self.state.profile or self.procedure.profile} 1"
        header = header_of(self.procedure, self.answers.start, rules, clock, clock.now())
        journal = Journal.create(to, "job", header)
        journal.append(self.journal.events)
        journal.close()
        return journal.path


def _waits(answers: Answers) -> dict[str, float]:
    """Return by entry how long the clean job waits before it is given [s]."""
    pairs = zip(answers.actions, answers.actions[1:], strict=False)
    return {b.entry: a.seconds for a, b in pairs if isinstance(a, PassTime) and isinstance(b, c.Take)}


def _settled(answers: Answers, step: str) -> list[c.Accept | c.Deviate]:
    return [a for a in answers.actions if isinstance(a, c.Accept | c.Deviate) and a.step == step]


def _text(answers: Answers, entry: Entry) -> str:
    """Return what the clean job gives, or else what may well be: the middle of what is usual, the first choice, yes."""
    given = next((a.text for a in answers.actions if isinstance(a, c.Take) and a.entry == entry.id), "")
    if given or entry.unit in ("yes/no", "choice", "words", "wire"):
        usual = {"yes/no": "yes", "words": "a few words", "wire": "6 AWG", "choice": next(iter(entry.choices), "")}
        return given or usual[entry.unit]
    low, high = entry.likely or entry.hard or (0.0, 1.0)
    number = from_base((low + high) / 2, entry.unit)
    text = str(round(number)) if entry.unit == "" else f"{number:.3f}"
    return f"+{text}" if entry.signed and number >= 0 else text


@cache
def _way(asset: str) -> dict[str, Job]:
    """Return the clean job as it stood when each of its steps came to be the next; at its end under an empty name."""
    job = Job(asset)
    found: dict[str, Job] = {}
    while not job.state.over:
        if (at := job.at or "") not in found:
            found[at] = job.copy()
        outcome = job._next()
        assert isinstance(outcome, Recorded), (at, outcome)
    assert job.state.clean
    return found


def clean_job(asset: str, before: str = "") -> Job:
    """Return the clean job of an asset as it stands before a step, or before its closing."""
    return _way(asset)[before].copy()


def ended(asset: str, step: str, **texts: str) -> tuple[Job, Outcome]:
    """Play the clean job up to the end of a step, other texts given where they are asked; return it, and what came."""
    own = {shipped_procedure(clean_answers(asset).procedure).step_of_entry[entry] for entry in texts}
    first = next((at for at in _way(asset) if at in own), step)
    job = clean_job(asset, first)
    job.texts = texts
    outcome = job.until_before(step)
    return job, job.on(step) if isinstance(outcome, Recorded) else outcome


def before_hands(name: str) -> tuple[Job, Step]:
    """Return the clean job before the first step with hands on what was proved dead, and that step."""
    job = clean_job(CLEAN[name])
    ids = [step.id for step in applicable(job.procedure, job.state)]
    step = next(job.step(i) for i in ids[ids.index("prove-dead") :] if job.step(i).hands_on)
    return clean_job(CLEAN[name], step.id), step
