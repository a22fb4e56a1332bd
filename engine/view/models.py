"""The frozen view-models that every face shows. All texts are complete sentences or rows, in plain ASCII signs."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class VerdictView:
    """A finding for the eye. ``label`` is word and sign (``[FAIL x]``); ``working`` the sum, shown on demand.

    ``settled`` says how it was accepted or deviated from, empty if it was not. ``key`` names it in commands.
    ``needs`` is what would let work go on: empty, ``accept``, ``deviate`` or ``evidence`` (nothing but a pass).
    ``hands`` is what the hands do now: not empty only on a fail that can hurt.
    """

    key: str
    check: str
    verdict: str
    label: str
    sentence: str
    limits: tuple[str, ...] = ()
    working: str = ""
    sources: tuple[str, ...] = ()
    remedy: str = ""
    settled: str = ""
    needs: str = ""
    hands: str = ""


@dataclass(frozen=True, slots=True)
class MapRow:
    """One position of a pin map: what it reaches, which of these were read in ohms, and the sentence for it."""

    near: str
    reaches: tuple[str, ...]
    in_ohms: tuple[str, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class MapPicture:
    """A pin map as it was understood. ``says`` counts its pairs: "6 joined (x), all others open (.)"."""

    rows: tuple[MapRow, ...]
    far: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class EntryRow:
    """One value on a step. ``state`` is ``open``, ``given`` or ``absent`` (not measured).

    ``hint`` says unit and likely range ("V, usually 12.4 to 12.9"). ``shown`` is the value in words with the other
    system in brackets, ``raw`` the text as typed. ``choices`` are the words to pick from (yes/no and choice entries),
    ``map`` is a given pin map, ``offer`` the words that Enter alone takes.
    """

    id: str
    ask: str
    unit: str
    hint: str
    why: str
    state: str
    shown: str = ""
    raw: str = ""
    choices: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    signed: bool = False
    known: str = ""
    map: MapPicture | None = None
    offer: str = ""


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part that belongs on the wire first."""

    id: str
    name: str
    facing: str
    seen: bool


@dataclass(frozen=True, slots=True)
class WarnView:
    """A warning: the signal word, and its text (hazard, how to avoid it, consequence)."""

    word: str
    text: str


@dataclass(frozen=True, slots=True)
class PositionRow:
    """One position of a connector, with the whole sentence (``position 1, bottom: negative``)."""

    number: str
    where: str
    carries: str
    sentence: str


@dataclass(frozen=True, slots=True)
class ConnectorPicture:
    """A connector seen from one side, which is said."""

    title: str
    seen_from: str
    positions: tuple[PositionRow, ...]


@dataclass(frozen=True, slots=True)
class Shut:
    """Why a step is shut: a sentence, and the step to go to (one key goes there)."""

    sentence: str
    step: str


@dataclass(frozen=True, slots=True)
class ChainPart:
    """One part of the circuit, as found and as planned: a short figure each, and the worst verdict of each."""

    id: str
    kind: str
    name: str
    found: str
    found_label: str
    planned: str
    planned_label: str
    findings: tuple[VerdictView, ...] = ()


@dataclass(frozen=True, slots=True)
class Rung:
    """One rung of the voltage ladder: where, volts at full load, and 0 to 1 of the allowed drop (may pass 1)."""

    name: str
    volts: float
    share: float
    text: str


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One row of the what-if table: a wire size, drop cold and hot, allowable current, copper, verdict."""

    size: str
    drop: str
    hot: str
    allowable: str
    copper: str
    label: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class PlanView:
    """The circuit before the first cut: as found, as planned, the weakest part, one remedy, what to buy."""

    found_sentence: str
    planned_sentence: str
    weakest: str
    remedy: str
    chain: tuple[ChainPart, ...]
    ladder: tuple[Rung, ...]
    what_if: tuple[WhatIf, ...]
    buy: tuple[str, ...]
    found_label: str
    planned_label: str
    missing: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()
    ladder_v: float | None = None


@dataclass(frozen=True, slots=True)
class HaltView:
    """A STOP that is not answered yet: what is wrong, and what the hands do now, a sentence each."""

    sentence: str
    hands: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """A zone: its name, how it stands (``live``, ``off``, ``doubt``, ``dead``) and in words.

    ``hands`` says, where the step has hands on it, whether they may go there; it is empty elsewhere.
    """

    name: str
    state: str
    words: str
    hands: str


@dataclass(frozen=True, slots=True)
class WhereView:
    """Where power is and where hands are: the zones, how things were left, other jobs that are open on this boat."""

    zones: tuple[ZoneRow, ...]
    physical: tuple[str, ...]
    beside: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """One step, in reading order: place, warnings, action, why, values, verdicts, what is left.

    ``place`` is "Step 14 of 41 - Make safe - next hold in 2 - 1 left to do". ``hold`` is empty, ``hold`` or ``firm``.
    ``status`` is ``open``, ``done`` or ``shut``; when shut, ``shut`` says why. ``ready`` is True when the step can be
    ended now; if not, ``wants`` says in one sentence what is still missing. ``action`` and ``why`` are not wrapped.
    ``mends`` are remedies that open something: doing the step again may begin with one. ``beside`` are other jobs that
    are open on this boat, where the step feeds something or has hands on it. ``gone`` says of a step whose status is
    ``ended`` why what it proved holds no longer. ``zones`` is the map of zones, where the step has to do with power.
    """

    id: str
    number: int
    total: int
    section: str
    title: str
    place: str
    demo: bool
    asset: str
    hold: str
    status: str
    warnings: tuple[WarnView, ...]
    action: str
    why: str
    rows: tuple[EntryRow, ...]
    parts: tuple[PartRow, ...]
    verdicts: tuple[VerdictView, ...]
    connector: ConnectorPicture | None
    plan: PlanView | None
    shut: tuple[Shut, ...]
    ready: bool
    wants: str
    stop_if: tuple[str, ...]
    irreversible: str
    left_to_do: tuple[str, ...]
    previous: str = ""
    halt: HaltView | None = None
    mends: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    gone: str = ""
    zones: tuple[ZoneRow, ...] = ()


@dataclass(frozen=True, slots=True)
class WayStep:
    """One step on the way that a command leads through: its number, its title, what it does to the work."""

    number: int
    title: str
    does: str


@dataclass(frozen=True, slots=True)
class Way:
    """Steps that a command makes necessary again, in working order. ``says`` is how, and how many."""

    says: str
    steps: tuple[WayStep, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """What a text would become, while it is being typed: an echo in both systems, or a problem with its place.

    ``column`` is that place, from 0; None where the whole text is meant. ``map`` is a pin map as it was understood.
    """

    echo: str = ""
    problem: str = ""
    column: int | None = None
    verdicts: tuple[VerdictView, ...] = ()
    question: str = ""
    map: MapPicture | None = None


@dataclass(frozen=True, slots=True)
class ReturnView:
    """The screen after a break: what is live, what is loose, the last entries, what expired, what comes next."""

    title: str
    away: str
    line: str
    physical: tuple[str, ...]
    last: tuple[str, ...]
    expired: tuple[str, ...]
    left_to_do: tuple[str, ...]
    next_step: str
    asks_to_look: bool
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ClosingView:
    """The closing screen: what still blocks it, what is left to do by name, what was not measured, the chain's head.

    ``title`` says in a few words how it stands; ``standing`` are fails of a firm hold that were never measured good
    again: it does not close clean.
    """

    title: str
    can_close: bool
    blocks: tuple[Shut, ...]
    left_to_do: tuple[str, ...]
    standing: tuple[str, ...]
    not_measured: tuple[str, ...]
    accepted: tuple[str, ...]
    deviations: tuple[str, ...]
    due: tuple[str, ...]
    ended: str
    head: str
    events: int


@dataclass(frozen=True, slots=True)
class OpenSession:
    """A session that can be gone on with, in one sentence: boat, step, when it was left, what is live."""

    path: str
    sentence: str


@dataclass(frozen=True, slots=True)
class ProcedureLine:
    """A procedure in one line."""

    id: str
    title: str
    summary: str


@dataclass(frozen=True, slots=True)
class HomeView:
    """What can be done: open sessions first, procedures, ended sessions to read; a word on older ones not listed."""

    open: tuple[OpenSession, ...]
    procedures: tuple[ProcedureLine, ...]
    ended: tuple[OpenSession, ...]
    folder: str
    problems: tuple[str, ...] = ()
    older: str = ""
