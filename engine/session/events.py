"""Everything that can happen in a session, one frozen dataclass each; flat, so that a log stays readable.

An event is never changed; a correction is a new event. What a fold needs later (which steps become void, which items
open) is worked out once, when the event is decided, and written into the event: the state needs no procedure.
"""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """The job begins. ``asset`` is the boat or trailer; ``demo`` marks invented facts."""

    procedure: str
    asset: str
    person: str
    profile: str
    demo: bool = False
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A fact or a reading was given. ``raw`` is the text as typed; exactly one of the values is filled.

    ``number`` is in the base unit ``unit``; over range is ``over``. ``digit`` is one last typed digit in base units.
    ``turn`` counts the readings of an entry that is read more than once, from 2.
    """

    entry: str
    step: str
    raw: str
    unit: str = ""
    number: float | None = None
    label: str | None = None
    yes: bool | None = None
    over: bool = False
    digit: float = 0.0
    known: str = ""
    turn: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipAnswered:
    """A text that looked like a slip was asked about; ``meant`` is the answer that was picked."""

    entry: str
    raw: str
    asked: str
    meant: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMeasured:
    """A fact or reading was not taken, with the reason."""

    entry: str
    step: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A finding as the person saw it. ``key`` tells the findings of one step apart (``voltage-drop``, ``limit 1``)."""

    step: str
    key: str
    check: str
    verdict: str
    sentence: str
    values: list[str] = field(default_factory=list)
    limits: list[str] = field(default_factory=list)
    profile: str = ""
    firm: bool = False
    remedy: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A part was seen on the wire."""

    step: str
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDone:
    """A step was done. ``leaves`` are "topic: state" lines."""

    step: str
    leaves: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fed:
    """A step that feeds a zone was begun: it is live from here on. ``ended`` are the steps whose proof ends by it."""

    step: str
    ended: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldCleared:
    """A hold point was opened. ``by`` is ``evidence`` or ``deviation``."""

    step: str
    firm: bool
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A marginal or undecided finding was accepted, with the reason."""

    step: str
    key: str
    reason: str
    initials: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviated:
    """The job went on past a finding that did not pass, with reason and initials."""

    step: str
    key: str
    verdict: str
    reason: str
    initials: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """A note in the person's own words."""

    step: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A file was copied beside the log."""

    step: str
    name: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """The person went away, with a line to themselves (may be empty)."""

    step: str
    line: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Returned:
    """Work goes on after the program was left, or did not run, for ``away_s`` [s]."""

    away_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lapsed:
    """Nothing was entered for longer than the step may take: ``gap_s`` [s], by the clock.

    ``doubted`` are dead proofs that one reading at the point of work keeps, ``ended`` those to be made again whole.
    ``rejudged`` are the steps that used a value which went with them, and must be ended again.
    """

    gap_s: float
    doubted: list[str] = field(default_factory=list)
    ended: list[str] = field(default_factory=list)
    rejudged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stayed:
    """Somebody stayed with the work over a gap, and measured once more where hands go: ``number`` [V].

    ``ended`` are the dead proofs that this reading ends, since it is not dead; none if it is.
    """

    step: str
    raw: str
    number: float
    ended: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Halted:
    """A value was taken that hurts: STOP. ``hands`` says what the hands do now; the answer comes before all else."""

    step: str
    sentence: str
    hands: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsOff:
    """The STOP was answered: the hands are away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OthersTold:
    """Other open jobs on this boat were told of before ``step`` fed a zone; the person said that nobody is at them."""

    step: str
    jobs: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected:
    """An earlier entry was corrected; the new value is in the ``Taken`` that follows.

    ``rejudged`` are the steps that must be ended again.
    """

    entry: str
    was: str
    reason: str
    rejudged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Redone:
    """A step is to be done again; ``voided`` are all steps, itself included, whose readings no longer stand.

    ``mend`` is the remedy that was chosen for what the step found, if one was: the pieces that it opens are worked on
    and proved again. ``rejudged`` are the other steps that used such a reading, and must be ended again.
    """

    step: str
    mend: str = ""
    voided: list[str] = field(default_factory=list)
    rejudged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonChanged:
    """Somebody else goes on; ``ended`` are the dead proofs that the newcomer makes again, before hands go there.

    ``rejudged`` are the other steps that used a reading of theirs, and must be ended again.
    """

    person: str
    ended: list[str] = field(default_factory=list)
    rejudged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentDeclared:
    """Which instrument is used, its accuracy and calibration. ``resolution`` is one last digit in base units."""

    instrument: str
    name: str
    percent: float
    counts: float
    resolution: float
    calibrated: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileChosen:
    """The rule profile was chosen or changed."""

    profile: str
    rejudged: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemLeft:
    """Something was opened that must be finished before closing."""

    item: str
    says: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemFinished:
    """Something left to do was finished."""

    item: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DueSet:
    """A dated look after closing. ``on`` is an ISO date and time, UTC."""

    item: str
    says: str
    on: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowedUp:
    """A dated look was made: the only kind of event allowed after closing."""

    item: str
    outcome: str
    person: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockNoted:
    """The clock was set: back, so that it ran on by less than the time passed, or ahead by ``ahead_s`` [s]."""

    was: str
    now: str
    ahead_s: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TailSetAside:
    """A half-written tail was found on opening and put into a file of its own."""

    name: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """The log went on in another folder, after the first could not be written."""

    was: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stopped:
    """The job cannot go on. ``state`` says what is live, loose and tagged."""

    reason: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """The job is closed. ``clean`` is True without deviation, missing or undecided on a hold, or a fail that stands.

    ``standing`` are fails of a firm hold that were never measured good again.
    """

    clean: bool
    deviations: int
    missing: int
    marginals: int
    standing: list[str] = field(default_factory=list)


Event = (
    Opened
    | Taken
    | SlipAnswered
    | NotMeasured
    | Found
    | Named
    | Fed
    | StepDone
    | HoldCleared
    | Accepted
    | Deviated
    | Noted
    | Attached
    | Left
    | Returned
    | Lapsed
    | Stayed
    | Halted
    | HandsOff
    | OthersTold
    | Corrected
    | Redone
    | PersonChanged
    | InstrumentDeclared
    | ProfileChosen
    | ItemLeft
    | ItemFinished
    | DueSet
    | FollowedUp
    | ClockNoted
    | TailSetAside
    | Moved
    | Stopped
    | Closed
)


@dataclass(frozen=True, slots=True)
class Stamped:
    """An event with its number in the log (from 1), wall clock (ISO, UTC) and monotonic seconds of its process."""

    n: int
    at: str
    mono: float
    event: Event
