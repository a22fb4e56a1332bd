"""What a session is at a moment: the sum of its events and nothing else."""

from collections.abc import Mapping
from copy import copy
from dataclasses import MISSING, dataclass, field, fields
from datetime import datetime
from statistics import median

from engine.finding import Value
from engine.session.events import Halted, Stamped, Taken


@dataclass(slots=True)
class Given:
    """One entry that stands: the event that gave it, when it was measured, and how often it was given before.

    A correction changes what was written, not when it was measured (``at``, and ``measured_n`` among the events).
    ``set_back_s`` and ``set_ahead_s`` are by how much the clock had been set until then [s]. ``readings`` are all
    numbers of an entry that is read more than once.
    """

    taken: Taken
    n: int
    at: str
    before: tuple[str, ...] = ()
    set_back_s: float = 0.0
    set_ahead_s: float = 0.0
    readings: tuple[float, ...] = ()
    measured_n: int = 0
    value: Value = field(init=False, repr=False, compare=False)
    """The value in base units, as checks take it: a float (the middle of several), a label or a yes/no."""

    def __post_init__(self) -> None:
        self.value = self._value()

    def _value(self) -> Value:
        if len(self.readings) > 1:
            return median(self.readings)
        if self.taken.over:
            return float("inf")
        if self.taken.number is not None:
            return self.taken.number
        return self.taken.yes if self.taken.yes is not None else self.taken.label


@dataclass(slots=True)
class Instrument:
    """A declared instrument."""

    name: str
    percent: float
    counts: float
    resolution: float
    calibrated: str


@dataclass(frozen=True, slots=True)
class DoneStep:
    """A step that was done: ``ended`` says what ended its evidence (a step's id, or words); empty while it holds.

    Ending a step again does not renew its evidence; only doing it again (``Redone``) does. ``instruments`` are those
    declared when it was done: one declared later does not change what was proved.
    """

    n: int
    at: str
    ended: str = ""
    set_back_s: float = 0.0
    instruments: Mapping[str, Instrument] = field(default_factory=dict)


@dataclass(slots=True)
class FoundState:
    """A recorded finding, and whether it was accepted or deviated from.

    Of a fail that is not mended yet: ``good_again`` if the same thing was measured good since, ``redone`` are the steps
    that were done again by then, ``corrected`` is the entry of its step that was corrected as mistyped.
    """

    verdict: str
    sentence: str
    check: str
    firm: bool
    n: int
    values: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()
    remedy: str = ""
    accepted: str = ""
    deviation: str = ""
    good_again: bool = False
    redone: frozenset[str] = frozenset()
    corrected: str = ""

    @property
    def settled(self) -> bool:
        """True if work may go on past it."""
        return self.verdict == "pass" or bool(self.accepted or self.deviation)


@dataclass(slots=True)
class DueState:
    """A dated look: when, and what came of it."""

    says: str
    on: str
    outcome: str = ""


@dataclass(frozen=True, slots=True)
class Counted:
    """What follows from the given values under a procedure: worked out once, until one of them moves.

    ``values`` are those that count, ``steps`` the numbers of the job's steps by id, in working order.
    """

    procedure: object
    values: Mapping[str, Value]
    steps: Mapping[str, int]


@dataclass(slots=True)
class State:
    """A session at a moment. Made by ``fold``; changed only by ``apply``.

    ``rejudged`` are steps that were done and must only be ended again, since something they used was changed: nothing
    is done anew by that. ``set_back_s`` and ``set_ahead_s`` are by how much the clock was set so far [s]. ``left_at``
    and ``left_mono`` say when the person went away, ``entry_at`` when anything was entered last: what the program notes
    by itself, going away and coming back are no entries. ``doubted`` are dead proofs that a gap (``doubt`` says how
    long) throws doubt on; ``ended`` says by step what ended its evidence; ``halted`` is the STOP that is not answered
    yet; ``unmended`` are fails of a firm hold that stand until what they rest on is mended and the same
    thing is measured good. ``counted`` is kept by
    ``standing`` and follows from ``given`` alone.
    """

    procedure: str = ""
    asset: str = ""
    person: str = ""
    place: str = ""
    profile: str = ""
    demo: bool = False
    count: int = 0
    last_at: str = ""
    last_mono: float = 0.0
    entry_at: str = ""
    entry_set_back_s: float = 0.0
    given: dict[str, Given] = field(default_factory=dict)
    absent: dict[str, str] = field(default_factory=dict)
    absent_in: dict[str, str] = field(default_factory=dict)
    done: dict[str, DoneStep] = field(default_factory=dict)
    findings: dict[tuple[str, str], FoundState] = field(default_factory=dict)
    named: dict[str, tuple[str, ...]] = field(default_factory=dict)
    ended: dict[str, str] = field(default_factory=dict)
    doubted: set[str] = field(default_factory=set)
    doubt: str = ""
    halted: Halted | None = None
    unmended: dict[tuple[str, str], FoundState] = field(default_factory=dict)
    rejudged: dict[str, DoneStep] = field(default_factory=dict)
    correcting: str = ""
    items: dict[str, str] = field(default_factory=dict)
    finished: dict[str, str] = field(default_factory=dict)
    due: dict[str, DueState] = field(default_factory=dict)
    physical: dict[str, str] = field(default_factory=dict)
    instruments: dict[str, Instrument] = field(default_factory=dict)
    notes: list[tuple[str, str, str]] = field(default_factory=list)
    files: list[tuple[str, str, int]] = field(default_factory=list)
    left_line: str = ""
    away: bool = False
    away_s: float = 0.0
    left_at: str = ""
    left_mono: float = 0.0
    set_back_s: float = 0.0
    set_ahead_s: float = 0.0
    clock_notes: int = 0
    people: list[str] = field(default_factory=list)
    recent: list[Stamped] = field(default_factory=list)
    stopped: str = ""
    closed: bool = False
    clean: bool = False
    deviations: int = 0
    counted: Counted | None = field(default=None, init=False, repr=False, compare=False)

    def idle_s(self, now: datetime) -> float:
        """Return how long nothing was entered until ``now`` [s], a clock that was set back counted in."""
        since_s = (now - datetime.fromisoformat(self.entry_at)).total_seconds() if self.entry_at else 0.0
        return max(0.0, since_s + self.set_back_s - self.entry_set_back_s)

    @property
    def over(self) -> bool:
        """True if the job has ended, closed or stopped."""
        return self.closed or bool(self.stopped)

    @property
    def begun(self) -> set[str]:
        """The steps that hold anything: done, to be ended again, or with a value, a reason or a part of theirs."""
        return {
            *self.done,
            *self.rejudged,
            *(given.taken.step for given in self.given.values()),
            *self.absent_in.values(),
            *self.named,
        }

    def copy(self) -> "State":
        """Return a copy deep enough that ``apply`` on it leaves this state as it was."""
        later = State.__new__(State)
        for name in _KEPT:
            setattr(later, name, getattr(self, name))
        for name in _HELD:
            value = getattr(self, name)
            setattr(later, name, {key: copy(each) for key, each in value.items()} if name in _MOVED else value.copy())
        return later

    def values(self) -> dict[str, Value]:
        """Return every given entry by id, in base units."""
        return {entry: given.value for entry, given in self.given.items()}


_HELD = tuple(item.name for item in fields(State) if item.default_factory is not MISSING)
_KEPT = tuple(item.name for item in fields(State) if item.default_factory is MISSING)
_MOVED = ("findings", "due")
"""The fields that hold several things, those that hold one, and those whose things are changed by ``apply``."""
