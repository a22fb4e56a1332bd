"""Walks a log's events again: reads every text anew, judges every finding anew, holds the order against the gates."""

from dataclasses import dataclass, field, fields, replace
from datetime import datetime

from engine.finding import Finding, Verdict
from engine.procedure.model import Entry, Procedure
from engine.quantity import Question
from engine.review.consequences import Consequences
from engine.session import events as e
from engine.session.answer import NotUnderstood, understand
from engine.session.answer import Outcome as Meant
from engine.session.apply import apply
from engine.session.clock import CLOCKS_DIFFER_S
from engine.session.events import Stamped, Taken
from engine.session.gates import applicable, applies, shut
from engine.session.judge import judge
from engine.session.record import as_event
from engine.session.state import State

MOST_READ = 20_000
"""Texts whose meaning is kept [count]; a project rule, about 5 MB."""

ROUNDED_S = 1.0
"""The times of a log are whole seconds [s]."""

_UNMOVING = (
    e.Found, e.HoldCleared, e.Accepted, e.Deviated, e.Noted, e.Attached, e.Named, e.ItemLeft, e.ItemFinished,
)  # fmt: skip
"""Events that change nothing that a finding depends on."""

_READ: dict[tuple[str, str, str, str], Meant] = {}


@dataclass(frozen=True, slots=True)
class Difference:
    """A verdict, or a reading, that comes out otherwise than recorded. ``n`` is its event."""

    n: int
    what: str
    recorded: str
    recomputed: str

    def __str__(self) -> str:
        return f"event {self.n}, {self.what}: recorded {self.recorded}; recomputed {self.recomputed}"


@dataclass(slots=True)
class Replay:
    """What walking the events found. ``differences`` disagree; ``order`` are steps ended when they could not be.

    ``judged`` has the latest finding of each step and key, computed anew. ``changed`` has the values that were
    corrected while a finding on them did not pass, by entry: the text before, the text after, the reason.
    """

    state: State = field(default_factory=State)
    differences: list[Difference] = field(default_factory=list)
    order: list[str] = field(default_factory=list)
    cleared: dict[str, str] = field(default_factory=dict)
    corrections: list[str] = field(default_factory=list)
    redone: list[str] = field(default_factory=list)
    breaks: list[float] = field(default_factory=list)
    deviations: list[str] = field(default_factory=list)
    findings: int = 0
    judged: dict[tuple[str, str], Finding] = field(default_factory=dict)
    changed: dict[str, tuple[str, str, str]] = field(default_factory=dict)

    @property
    def problems(self) -> list[str]:
        """Everything that does not agree, as sentences."""
        return [*(str(d) for d in self.differences), *self.order]


def replay(procedure: Procedure, stamped: list[Stamped]) -> Replay:
    """Walk ``stamped`` under ``procedure`` and return what was found."""
    walk = _Walk(procedure)
    for item in stamped:
        walk.take(item)
    walk.end()
    return walk.found


class _Walk:
    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.found = Replay()
        self._consequences = Consequences(procedure, self.found.order)
        self._slips: dict[str, str] = {}
        self._fixing = ""
        self._judged: tuple[int, str, dict[str, Finding]] = (-1, "", {})
        self._moved = 0
        self._apart = ""

    def take(self, item: Stamped) -> None:
        event, state = item.event, self.found.state
        if item.n != state.count + 1:
            self.found.order.append(f"event {item.n} stands where event {state.count + 1} should")
        self._clocks(item)
        self._consequences.before(state, item)
        if isinstance(event, e.Found):
            self._finding(item.n, event)
        elif isinstance(event, e.StepDone):
            self._step_done(item, event)
        elif isinstance(event, e.Closed):
            self._closed(item, event)
        elif isinstance(event, Taken):
            item = replace(item, event=self._reading(item.n, event))
        else:
            self._plain(item)
        apply(state, item)
        if not isinstance(event, _UNMOVING):
            self._moved += 1

    def end(self) -> None:
        """Take note that nothing follows."""
        self._consequences.end(self.found.state)

    def _clocks(self, item: Stamped) -> None:
        """Hold the wall clock against the steady one: only a note, or a program started again, may part them."""
        event, state = item.event, self.found.state
        told, waits = "", self._apart
        self._apart = ""
        if not state.last_at or isinstance(event, e.ClockNoted):
            return
        if _earlier(item.at, state.last_at):
            told = f"event {item.n}: its time is before that of the event before it; no note says why"
        elif (apart_s := _apart_s(item, state)) > CLOCKS_DIFFER_S + ROUNDED_S:
            told = f"event {item.n}: clock and steady seconds come apart by {apart_s:.0f} s; no note says why"
        if isinstance(event, e.Lapsed | e.TailSetAside):
            self._apart = told
        elif not isinstance(event, e.Returned | e.FollowedUp):
            self.found.order += [words for words in (waits, told) if words]

    def _plain(self, item: Stamped) -> None:
        event, found = item.event, self.found
        if isinstance(event, e.SlipAnswered):
            self._slips[event.entry] = event.meant
        elif isinstance(event, e.HoldCleared):
            found.cleared[event.step] = event.by
        elif isinstance(event, e.Corrected):
            self._fixing = event.entry
            if self._is_bad(event.entry):
                was = found.changed.get(event.entry, (event.was,))[0]
                found.changed[event.entry] = (was, "", event.reason)
            found.corrections.append(f"event {item.n}, {event.entry}: was {event.was}: {event.reason}")
        elif isinstance(event, e.Redone):
            found.redone.append(f"event {item.n}: {self._title(event.step)}")
            for step in event.voided:
                found.cleared.pop(step, None)
        elif isinstance(event, e.Returned):
            found.breaks.append(event.away_s)
        elif isinstance(event, e.Deviated):
            found.deviations.append(f"event {item.n}, {self._title(event.step)}: {event.reason} ({event.initials})")

    def _is_bad(self, entry: str) -> bool:
        """Return whether anything that its step finds with an entry stands otherwise than passed, recorded or not."""
        step = self.procedure.step_by_id.get(self.procedure.step_of_entry.get(entry, ""))
        good = (Verdict.PASS, Verdict.MARGINAL)
        if step is None or entry not in self.procedure.rests_on[step.id]:
            return False
        return any(finding.verdict not in good for finding in judge(self.procedure, self.found.state, step).values())

    def _changed(self, event: Taken) -> None:
        """Keep the text that a correction gave; a value that is taken anew is no correction any more."""
        if self._fixing == event.entry and event.entry in self.found.changed:
            was, _, reason = self.found.changed[event.entry]
            self.found.changed[event.entry] = (was, event.raw, reason)
        elif self._fixing != event.entry:
            self.found.changed.pop(event.entry, None)

    def _title(self, step_id: str) -> str:
        step = self.procedure.step_by_id.get(step_id)
        return step.title if step is not None else step_id

    def _reading(self, n: int, event: Taken) -> Taken | e.NotMeasured:
        """Return what the text as typed means: that counts from here on, whatever value stands beside it."""
        entry = self.procedure.entry_by_id.get(event.entry)
        if entry is None:
            self.found.order.append(f"event {n}: the procedure asks for nothing named {event.entry}")
            return event
        if event.step != self.procedure.step_of_entry[event.entry]:
            self.found.order.append(f"event {n}: {event.entry} is not asked in step {event.step}")
        if event.step in self.found.state.done and self._fixing != event.entry:
            self.found.order.append(f"event {n}: {event.entry} was taken after its step was ended")
        self._changed(event)
        self._fixing = ""
        meant = self._meant(entry, event)
        if isinstance(meant, Question):
            meant = understand(entry, event.step, event.raw, _picked(meant, self._slips.pop(event.entry, "")))
        if isinstance(meant, Question | NotUnderstood):
            self.found.differences.append(Difference(n, event.entry, _said(event), meant.sentence))
            return e.NotMeasured(
                entry=event.entry, step=event.step, reason=f"its text cannot be read: {meant.sentence}"
            )
        due = meant.taken if event.turn is None else replace(meant.taken, turn=event.turn)
        if due != event:
            recorded, recomputed = _said(event), _said(due)
            if recorded == recomputed:
                recorded, recomputed = _field_apart(event, due)
            self.found.differences.append(Difference(n, event.entry, recorded, recomputed))
        return due

    def _meant(self, entry: Entry, event: Taken) -> Meant:
        """Return what a text means; the same texts come again and again in a class, so what was read once is kept."""
        asked = (self.procedure.sha256, entry.id, event.step, event.raw)
        meant = _READ.get(asked)
        if meant is None:
            if len(_READ) >= MOST_READ:
                _READ.clear()
            meant = _READ[asked] = understand(entry, event.step, event.raw)
        return meant

    def _finding(self, n: int, event: e.Found) -> None:
        step = self.procedure.step_by_id.get(event.step)
        self.found.findings += 1
        if step is None:
            self.found.order.append(f"event {n}: there is no step {event.step}")
            return
        if self._judged[:2] != (self._moved, step.id):
            self._judged = (self._moved, step.id, judge(self.procedure, self.found.state, step))
        now = self._judged[2].get(event.key)
        if now is not None:
            self.found.judged[step.id, event.key] = now
        due = as_event(step, event.key, now) if now is not None else None
        if due != event:
            recorded, recomputed = _apart(event, due)
            self.found.differences.append(Difference(n, f"{event.step}, {event.key}", recorded, recomputed))

    def _step_done(self, item: Stamped, event: e.StepDone) -> None:
        step, state = self.procedure.step_by_id.get(event.step), self.found.state
        if step is None or not applies(self.procedure, state, step):
            self.found.order.append(f"event {item.n}: step {event.step} does not belong to this job")
            return
        judged = self._judged[2] if self._judged[:2] == (self._moved, step.id) else None
        if self._consequences.step_done(state, item, event, self.found.cleared.get(step.id, ""), judged):
            return
        needs = shut(self.procedure, state, step, datetime.fromisoformat(item.at))
        self.found.order[-1:] = [f"event {item.n}, {step.id}: {need.sentence}" for need in needs] or self.found.order[
            -1:
        ]

    def _closed(self, item: Stamped, event: e.Closed) -> None:
        state = self.found.state
        undone = [s.id for s in applicable(self.procedure, state) if s.id not in state.done]
        self.found.order += [f"event {item.n}: closed although {step} was not done" for step in undone]
        self.found.order += [f"event {item.n}: closed although left to do: {says}" for says in state.items.values()]
        if not undone and not state.items:
            self._consequences.closed(state, item, event)


def _apart(recorded: e.Found, due: e.Found | None) -> tuple[str, str]:
    """Return what a finding says as recorded and as recomputed: verdict and sentence, or else what differs in it."""
    if due is None or (recorded.verdict, recorded.sentence) != (due.verdict, due.sentence):
        told = f"{due.verdict}, {due.sentence}" if due is not None else "no finding"
        return f"{recorded.verdict}, {recorded.sentence}", told
    return _field_apart(recorded, due)


def _field_apart(recorded: Taken | e.Found, due: Taken | e.Found) -> tuple[str, str]:
    name = next(f.name for f in fields(due) if getattr(recorded, f.name) != getattr(due, f.name))
    return f"{name} {_told(getattr(recorded, name))}", f"{name} {_told(getattr(due, name))}"


def _told(value: object) -> str:
    return "; ".join(value) if isinstance(value, list) else str(value) or "nothing"


def _apart_s(item: Stamped, state: State) -> float:
    """Return by how much wall and steady clock went on differently since the event before [s]; 0 if one began anew."""
    steady_s = item.mono - state.last_mono
    wall = datetime.fromisoformat(item.at) - datetime.fromisoformat(state.last_at)
    return abs(wall.total_seconds() - steady_s) if steady_s >= 0 else 0.0


def _earlier(one: str, other: str) -> bool:
    if one >= other and one[-6:] == other[-6:]:  # the same zone: the texts stand in the order of the times
        return False
    return datetime.fromisoformat(one) < datetime.fromisoformat(other)


def _picked(question: Question, words: str) -> int | None:
    return next((n for n, (text, _) in enumerate(question.choices) if text == words), None)


def _said(taken: Taken) -> str:
    if taken.over:
        return f'"{taken.raw}" as over range'
    value = next((v for v in (taken.number, taken.label, taken.yes) if v is not None), "nothing")
    return f'"{taken.raw}" as {value} {taken.unit}'.rstrip()
