"""What a procedure file says, as frozen dataclasses: facts, circuit, sections, steps, and all that a step carries."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Literal

from engine.finding import Verdict
from engine.procedure.limit import Expression
from engine.procedure.model_circuit import CircuitPart, StepCheck, operand_ids
from engine.source import Source

SCHEMA = 2
"""Version of the procedure file format that this program writes and reads."""

TAKES_S = 1200.0
"""How long a step may take without an entry if it does not say [s]: 20 min (project rule)."""


class Hold(StrEnum):
    """How a step ends: plainly, on evidence, or on evidence without any override."""

    NONE = ""
    HOLD = "hold"
    FIRM = "firm"


class Known(StrEnum):
    """The four kinds of knowing, never mixed."""

    MEASURED = "measured"
    LABEL = "read from label"
    SEEN = "seen"
    TOLD = "told by owner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One thing that is asked for: a fact before the work, or a reading in a step.

    ``unit`` is the unit of a bare number and of the ranges as written (``A mm "N m" degC % ""``), or ``wire``,
    ``yes/no``, ``choice``, ``words`` or ``pin map``. ``hard`` and ``likely`` are (low, high) in **base units**.
    ``skip`` are the reasons that "not measured" may be given with. ``group`` names readings that belong to the same
    minute. ``positions`` are the rows of a pin map, ``far`` the positions at its other end (the same if empty).
    ``offers`` are clauses of words that one key takes; gaps such as ``<new_wire>`` are filled from what was given.
    """

    id: str
    ask: str
    unit: str
    why: str = ""
    hard: tuple[float, float] | None = None
    likely: tuple[float, float] | None = None
    instrument: str = ""
    known: Known = Known.MEASURED
    signed: bool = False
    over_range: bool = False
    choices: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    repeats: int = 1
    group: str = ""
    positions: tuple[str, ...] = ()
    far: tuple[str, ...] = ()
    offers: tuple[str, ...] = ()
    when: Expression | None = None


class Signal(StrEnum):
    """Signal words by consequence (ANSI Z535.6 as quoted): will kill, may kill, may hurt, may damage."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


@dataclass(frozen=True, slots=True)
class Warn:
    """A warning bound to its step: what the hazard is, how to avoid it, what follows if not (may be empty)."""

    word: Signal
    hazard: str
    avoid: str
    consequence: str = ""


@dataclass(frozen=True, slots=True)
class WirePart:
    """A part that must be on the wire before it is terminated, and which way it faces."""

    id: str
    name: str
    facing: str = ""


@dataclass(frozen=True, slots=True)
class LeftItem:
    """Something opened in one step that must be finished, in a later step, before the job can close."""

    id: str
    says: str


@dataclass(frozen=True, slots=True)
class DueItem:
    """A dated look after closing. ``after_s`` is seconds after the closing."""

    id: str
    says: str
    after_s: float


@dataclass(frozen=True, slots=True)
class StepLimit:
    """A limit, the verdict if it does not hold, and its source. ``hands`` (not empty: STOP) says what the hands do."""

    expression: Expression
    otherwise: Verdict
    says: str
    source: Source
    hands: str = ""


@dataclass(frozen=True, slots=True)
class Zone:
    """Wiring that is live or dead together, and how the procedure leaves it."""

    id: str
    name: str
    left: Literal["live", "dead"]


@dataclass(frozen=True, slots=True)
class Piece:
    """What hands make and a reading proves. Work on a piece that it ``rests_on`` makes its own work and proof void."""

    id: str
    name: str
    rests_on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mend:
    """A remedy that opens something, and the pieces that it works on again."""

    says: str
    works: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Position:
    """One position of a connector: its number, where it sits in the view, and what lands there."""

    number: str
    where: str
    carries: str


@dataclass(frozen=True, slots=True)
class ConnectorView:
    """A connector as seen from one side. ``seen_from`` says which: the face or the wire side."""

    title: str
    seen_from: str
    positions: tuple[Position, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One action with its why, warnings, gates and evidence.

    ``needs`` are step ids that must be done and still stand before this one; None is the step before, and only that it
    is done. It ``isolates``, ``proves_dead``, ``feeds`` or has ``hands_on`` zones, and ``works`` on or ``proves``
    pieces. ``takes_s`` is how long it may take without an entry [s], ``lasts_s`` the age at which its evidence ends
    [s]. ``irreversible`` is the verb that cannot be undone (cut, drill, grind), or empty. ``asks`` are the ids of the
    facts asked here. ``leaves`` is the physical state after the step by topic (``{"batteries": "off"}``), for the
    return screen.
    """

    id: str
    section: str
    title: str
    action: str
    why: str
    hold: Hold = Hold.NONE
    warnings: tuple[Warn, ...] = ()
    asks: tuple[str, ...] = ()
    readings: tuple[Entry, ...] = ()
    parts: tuple[WirePart, ...] = ()
    checks: tuple[StepCheck, ...] = ()
    limits: tuple[StepLimit, ...] = ()
    needs: tuple[str, ...] | None = None
    isolates: tuple[str, ...] = ()
    proves_dead: tuple[str, ...] = ()
    feeds: tuple[str, ...] = ()
    hands_on: tuple[str, ...] = ()
    works: tuple[str, ...] = ()
    proves: tuple[str, ...] = ()
    mends: tuple[Mend, ...] = ()
    takes_s: float = TAKES_S
    lasts_s: float | None = None
    opens: tuple[LeftItem, ...] = ()
    closes: tuple[str, ...] = ()
    due: tuple[DueItem, ...] = ()
    irreversible: str = ""
    view: ConnectorView | None = None
    stop_if: tuple[str, ...] = ()
    leaves: Mapping[str, str] = field(default_factory=dict)
    when: Expression | None = None

    @property
    def touches(self) -> bool:
        """True if it does anything to a zone or a piece."""
        return bool(self.isolates or self.proves_dead or self.feeds or self.hands_on or self.works or self.proves)


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the work."""

    id: str
    title: str


@dataclass(frozen=True, kw_only=True)
class Procedure:
    """A whole procedure. ``text`` is its TOML with all blocks expanded and newlines normalised, ``sha256`` its hash."""

    id: str
    title: str
    revision: str
    summary: str
    scope: str
    profile: str = "industry"
    tools: tuple[str, ...] = ()
    supplies: tuple[str, ...] = ()
    stop_and_ask: tuple[str, ...] = ()
    zones: tuple[Zone, ...] = ()
    pieces: tuple[Piece, ...] = ()
    facts: tuple[Entry, ...] = ()
    circuit: tuple[CircuitPart, ...] = ()
    sections: tuple[Section, ...] = ()
    steps: tuple[Step, ...] = ()
    text: str = ""
    sha256: str = ""

    @cached_property
    def step_by_id(self) -> Mapping[str, Step]:
        """Return the steps by id."""
        return {step.id: step for step in self.steps}

    @cached_property
    def zone_by_id(self) -> Mapping[str, Zone]:
        """Return the zones by id."""
        return {zone.id: zone for zone in self.zones}

    @cached_property
    def piece_by_id(self) -> Mapping[str, Piece]:
        """Return the pieces by id."""
        return {piece.id: piece for piece in self.pieces}

    @cached_property
    def needs(self) -> Mapping[str, tuple[str, ...]]:
        """Return by id of a step the ids of those that it needs: as written, else the step before."""
        before = (None, *self.steps)
        return {
            step.id: step.needs if step.needs is not None else tuple(s.id for s in (last,) if s)
            for last, step in zip(before, self.steps, strict=False)
        }

    def numbers(self, without: frozenset[str] = frozenset()) -> Mapping[str, int]:
        """Return the numbers of the steps by id, from 1, in a job to which those ``without`` do not belong."""
        known = self._numbers.get(without)
        if known is None:
            ids = (step.id for step in self.steps if step.id not in without)
            known = self._numbers[without] = {step: number for number, step in enumerate(ids, start=1)}
        return known

    @cached_property
    def _numbers(self) -> dict[frozenset[str], Mapping[str, int]]:
        return {}

    @cached_property
    def derived(self) -> dict[tuple[str, ...], object]:
        """Return what other rooms work out once for the steps of a job: a place to keep it."""
        return {}

    @cached_property
    def watched(self) -> Mapping[str, tuple[Step, ...]]:
        """Return by id of a step those before that may keep it shut: holds, its gates, work on zones and pieces."""
        return {
            step.id: tuple(
                s for s in self.steps[:at] if s.hold is not Hold.NONE or s.touches or s.id in self.needs[step.id]
            )
            for at, step in enumerate(self.steps)
        }

    @cached_property
    def entry_by_id(self) -> Mapping[str, Entry]:
        """Return all entries, facts and readings, by id."""
        readings = {reading.id: reading for step in self.steps for reading in step.readings}
        return {fact.id: fact for fact in self.facts} | readings

    def entries_of(self, step: Step) -> tuple[Entry, ...]:
        """Return the facts and readings that a step may ask for in some job, in order."""
        return (*(self.entry_by_id[fact] for fact in step.asks if fact in self.entry_by_id), *step.readings)

    @cached_property
    def step_of_entry(self) -> Mapping[str, str]:
        """Return the id of the step in which each entry is asked."""
        asked = {fact: step.id for step in self.steps for fact in step.asks}
        return asked | {reading.id: step.id for step in self.steps for reading in step.readings}

    @cached_property
    def conditional(self) -> tuple[Step, ...]:
        """Return the steps that belong only to some jobs."""
        return tuple(step for step in self.steps if step.when is not None)

    @cached_property
    def conditions(self) -> Mapping[str, tuple[Expression, ...]]:
        """Return the conditions under which entries are asked, by id: of their step, and their own; only where any."""
        found = {
            entry.id: tuple(when for when in (self._when_of_step(entry.id), entry.when) if when is not None)
            for entry in self.entry_by_id.values()
        }
        return {entry: whens for entry, whens in found.items() if whens}

    @cached_property
    def asked_under(self) -> tuple[tuple[Expression, frozenset[str]], ...]:
        """Return each condition with all entries that are asked under it."""
        found: dict[Expression, set[str]] = {}
        for entry, whens in self.conditions.items():
            for when in whens:
                found.setdefault(when, set()).add(entry)
        return tuple((when, frozenset(entries)) for when, entries in found.items())

    @cached_property
    def plan_entries(self) -> frozenset[str]:
        """Return the ids of the entries that the plan of the circuit uses."""
        return operand_ids(o for part in self.circuit for o in (*part.found.values(), *part.planned.values()))

    @cached_property
    def built_entries(self) -> frozenset[str]:
        """Return the ids of the readings of the work that a figure of the plan uses as soon as they are given."""
        return operand_ids(o for part in self.circuit for o in part.built.values())

    @cached_property
    def rests_on(self) -> Mapping[str, frozenset[str]]:
        """Return by id of a step the entries that its findings rest on."""
        return {step.id: self._rests_on(step) for step in self.steps}

    def of_check(self, check: StepCheck) -> frozenset[str]:
        """Return the ids of the entries that the finding of a check rests on."""
        return check.rests_on(self.plan_entries, self.built_entries)

    def _rests_on(self, step: Step) -> frozenset[str]:
        names = {name for limit in step.limits for name in limit.expression.names}
        return frozenset(names).union(*(self.of_check(check) for check in step.checks))

    def _when_of_step(self, entry: str) -> Expression | None:
        step = self.step_by_id.get(self.step_of_entry.get(entry, ""))
        return step.when if step else None
