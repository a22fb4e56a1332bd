"""What a person can ask of a session. The faces send these and nothing else."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Start:
    """Begin the job."""

    asset: str
    person: str
    profile: str = ""
    demo: bool = False
    place: str = ""


@dataclass(frozen=True, slots=True)
class Take:
    """Give a fact or a reading as typed. ``answer`` picks one of a question's choices, from 0."""

    entry: str
    text: str
    answer: int | None = None


@dataclass(frozen=True, slots=True)
class TakeSeveral:
    """Give the open entries of the step in one line, parted by ``;``."""

    step: str
    text: str


@dataclass(frozen=True, slots=True)
class SkipEntry:
    """Say "not measured", with a reason."""

    entry: str
    reason: str


@dataclass(frozen=True, slots=True)
class NamePart:
    """Say that a part is on the wire."""

    step: str
    part: str


@dataclass(frozen=True, slots=True)
class Finish:
    """End a step."""

    step: str


@dataclass(frozen=True, slots=True)
class Accept:
    """Accept a marginal or undecided finding with a reason."""

    step: str
    key: str
    reason: str
    initials: str = ""


@dataclass(frozen=True, slots=True)
class Deviate:
    """Go on past a finding that did not pass, with reason (10 characters or more) and initials."""

    step: str
    key: str
    reason: str
    initials: str


@dataclass(frozen=True, slots=True)
class Correct:
    """Correct an earlier entry, with a reason."""

    entry: str
    text: str
    reason: str
    answer: int | None = None


@dataclass(frozen=True, slots=True)
class Redo:
    """Do a step again; with ``mend`` (from 1) by that remedy of the step: what it opens is made and proved again."""

    step: str
    mend: int = 0


@dataclass(frozen=True, slots=True)
class Note:
    """Write a note."""

    step: str
    text: str


@dataclass(frozen=True, slots=True)
class Attach:
    """Record a file that was copied beside the log."""

    step: str
    name: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True)
class Leave:
    """Go away, with one line to oneself."""

    line: str = ""


@dataclass(frozen=True, slots=True)
class Return:
    """Come back. ``passed_s`` are the seconds that passed by the machine's steady clock, if it ran on [s]."""

    passed_s: float = 0.0


@dataclass(frozen=True, slots=True)
class StayedWith:
    """Say that somebody stayed with the work over a gap, and what was measured once more where hands go."""

    text: str


@dataclass(frozen=True, slots=True)
class HandsOff:
    """Answer a STOP: the hands are away."""


@dataclass(frozen=True, slots=True)
class HandOver:
    """Another person goes on."""

    person: str


@dataclass(frozen=True, slots=True)
class DeclareInstrument:
    """Say which instrument is used, and how good it is."""

    instrument: str
    name: str
    percent: float
    counts: float
    resolution: float
    calibrated: str = ""


@dataclass(frozen=True, slots=True)
class ChooseProfile:
    """Choose the rule profile."""

    profile: str


@dataclass(frozen=True, slots=True)
class Stop:
    """End the job unfinished: why, and what is live, loose and tagged."""

    reason: str
    state: str


@dataclass(frozen=True, slots=True)
class Close:
    """Close the job."""


@dataclass(frozen=True, slots=True)
class FollowUp:
    """Answer a dated look."""

    item: str
    outcome: str
    person: str = ""


@dataclass(frozen=True, slots=True)
class Feeding:
    """A command that feeds a zone, and whether that may be: another open job on this boat holds something dead."""

    command: "Command"
    yes: bool


Command = (
    Start
    | Take
    | TakeSeveral
    | SkipEntry
    | NamePart
    | Finish
    | Accept
    | Deviate
    | Correct
    | Redo
    | Note
    | Attach
    | Leave
    | Return
    | StayedWith
    | HandsOff
    | HandOver
    | DeclareInstrument
    | ChooseProfile
    | Stop
    | Close
    | FollowUp
    | Feeding
)
