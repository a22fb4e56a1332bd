"""What a procedure file says, as frozen dataclasses: facts, circuit, sections, steps, and all that a step carries."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Literal

from engine.finding import Verdict
from engine.procedure.forms import (
    COMMON,
    CONDITION,
    SOURCE_NAME,
    SPAN,
    TEXT,
    YES_NO,
    Form,
    listed,
    mapped,
    named,
    one_of,
    text,
    whole,
)
from engine.procedure.limit import Expression
from engine.procedure.model_circuit import STEP_ID, WHEN, CircuitPart, StepCheck, operand_ids
from engine.procedure.tables import by_name, inner, key, once_or_more, record, rows, table
from engine.published.instruments import instrument_ids
from engine.published.profiles import profile_names
from engine.quantity.pin_rows import MOST_FAR, MOST_ROWS, NAME
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


KNOWN_WORDS = {"measured": Known.MEASURED, "label": Known.LABEL, "seen": Known.SEEN, "told": Known.TOLD}
"""How a thing is known, in the words of a file."""

CHOICE = text(r"[^;]*[^;\s][^;]*", 'words without ";", which parts several values in one line')

_NAMES, _TEXTS = listed(STEP_ID), listed(TEXT)
_VERDICTS = one_of(("fail", "marginal", "undecided"), Verdict)
_POSITION = text(NAME, 'one to eight letters and digits, such as "7" or "left"')


def _by_name(cls: type, name: str, *, has_id: bool = True) -> Form:
    return by_name(table(cls, name), STEP_ID, has_id=has_id)


@record
class Entry:
    """One thing that is asked: a fact before the work, or a reading in a step.

    ``unit`` is the unit of a bare number (``A mm "N m" degC % ""``), or ``wire``, ``yes/no``, ``choice``, ``words`` or
    ``pin map``. ``hard`` and ``likely`` are (low, high) in **base units**: taken at all, and without a question.
    """

    id: str
    ask: str = key(TEXT, "what is asked, as the person reads it")
    unit: str
    why: str = key(TEXT, "what it is needed for", default="")
    hard: tuple[float, float] | None = None
    likely: tuple[float, float] | None = None
    instrument: str = key(named("instrument", instrument_ids), "the usual instrument, by its id", name="by", default="")
    known: Known = key(one_of(tuple(KNOWN_WORDS), KNOWN_WORDS.__getitem__), "how it is known", default=Known.MEASURED)
    signed: bool = key(YES_NO, "whether + or - must be typed", default=False)
    over_range: bool = key(YES_NO, "whether OL is an answer", default=False)
    choices: tuple[str, ...] = key(listed(CHOICE, 2), "the answers to choose from", name="one_of", default=())
    skip: tuple[str, ...] = key(listed(TEXT, 1), "the reasons for not measuring it", default=())
    repeats: int = key(whole(1, 9), "how often it is taken", default=1)
    group: str = key(TEXT, "readings of one group belong to the same minute", default="")
    positions: tuple[str, ...] = key(listed(_POSITION, 1, MOST_ROWS), "the rows of a pin map", default=())
    far: tuple[str, ...] = key(listed(_POSITION, 1, MOST_FAR), "its other end, if it has others", default=())
    offers: tuple[str, ...] = key(listed(TEXT, 1), "words that one key takes: <id>, <date>", default=())
    when: Expression | None = key(CONDITION, WHEN, default=None)


class Signal(StrEnum):
    """Signal words by consequence (ANSI Z535.6 as quoted): will kill, may kill, may hurt, may damage."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


@record
class Warn:
    """A warning shown before the step's action."""

    word: Signal
    hazard: str = key(TEXT, "what can hurt")
    avoid: str = key(TEXT, "how to avoid it")
    consequence: str = key(TEXT, "what follows if not", default="")


WARN = table(Warn, "warn")
WARNINGS = once_or_more(
    "signal word", tuple(Signal), lambda word: WARN, lambda word, fields, scope: fields.make(scope, word=Signal(word))
)


@record
class WirePart:
    """A part that must be on the wire before it is terminated."""

    id: str
    name: str = key(TEXT, "what people call it")
    facing: str = key(TEXT, "which way it faces", default="")


@record
class LeftItem:
    """Something opened in one step that must be finished, in a later step, before the job can close."""

    id: str
    says: str


@record
class DueItem:
    """A dated look after closing."""

    id: str
    says: str = key(TEXT, "what to look at")
    after_s: float = key(SPAN, "how long after closing", name="after")


@record
class StepLimit:
    """A limit, the verdict if it does not hold, and its source. If it says ``hands``, what misses it is a STOP."""

    expression: Expression = key(CONDITION, "what must hold", name="is")
    otherwise: Verdict = key(_VERDICTS, "the verdict if it does not; fail if left out", absent=Verdict.FAIL)
    says: str = key(TEXT, "the reason, as the person reads it")
    source: Source = key(SOURCE_NAME, "a name of [source]; common practice if left out", name="from", absent=COMMON)
    hands: str = key(TEXT, "if it does not hold, STOP, and this is what the hands do now", default="")


@record
class Position:
    """One position of a connector, and what lands there."""

    number: str = key(TEXT, "its number as printed on the part")
    where: str = key(TEXT, "where it sits in this view")
    carries: str = key(TEXT, "what lands there")


@record
class ConnectorView:
    """A connector as seen from one side."""

    title: str = key(TEXT, "which connector")
    seen_from: str = key(TEXT, "the face or the wire side")
    positions: tuple[Position, ...] = key(rows(table(Position, "position")), "its positions")


@record
class Zone:
    """Wiring that is live or dead together."""

    id: str
    name: str = key(TEXT, "what people call it")
    left: Literal["live", "dead"] = key(one_of(("live", "dead")), "how the procedure leaves it at its end")


@record
class Piece:
    """What hands make and a reading proves."""

    id: str
    name: str = key(TEXT, "what people call it")
    rests_on: tuple[str, ...] = key(_NAMES, "pieces: work on one makes its own work and proof void", default=())


@record
class Mend:
    """A remedy that opens something."""

    says: str = key(TEXT, "the remedy, as the person reads it")
    works: tuple[str, ...] = key(listed(STEP_ID, 1), "the pieces that it works on again")


@record
class Step:
    """One action with its why, warnings, gates and evidence. ``asks`` are the ids of the facts asked in it."""

    id: str = key(STEP_ID, "its name; never reused")
    section: str
    title: str = key(TEXT, "two to five words; its name in words if left out", absent="")
    action: str = key(TEXT, "one action, one verb", name="do")
    why: str = key(TEXT, "why it is done")
    hold: Hold = key(one_of((Hold.HOLD, Hold.FIRM), Hold), "ends on evidence; firm has no override", default=Hold.NONE)
    needs: tuple[str, ...] | None = key(_NAMES, "what must still stand; the step before if left out", default=None)
    isolates: tuple[str, ...] = key(_NAMES, "zones that it cuts off from every source", default=())
    proves_dead: tuple[str, ...] = key(_NAMES, "zones that its readings prove dead", default=())
    feeds: tuple[str, ...] = key(_NAMES, "zones that it makes live, or may", default=())
    hands_on: tuple[str, ...] = key(_NAMES, "zones whose bare metal hands or tools touch in it", default=())
    works: tuple[str, ...] = key(_NAMES, "pieces that hands make or open in it", default=())
    proves: tuple[str, ...] = key(_NAMES, "pieces that its readings prove", default=())
    makes: tuple[str, ...] = key(_NAMES, "pieces that it works on and proves, both", default=())
    takes_s: float = key(SPAN, "how long without an entry; 20 min if left out", name="takes", default=TAKES_S)
    lasts_s: float | None = key(SPAN, "its readings are evidence no longer than this", name="lasts", default=None)
    irreversible: str = key(TEXT, "the verb that cannot be undone", default="")
    when: Expression | None = key(CONDITION, WHEN, default=None)
    stop_if: tuple[str, ...] = key(_TEXTS, "when to stop and ask", default=())
    leaves: Mapping[str, str] = key(mapped(TEXT), 'physical state after it: { breaker = "off" }', default_factory=dict)
    closes: tuple[str, ...] = key(_NAMES, "things left to do that this step finishes", default=())
    opens: tuple[LeftItem, ...] = key(
        mapped(TEXT, STEP_ID, lambda items: tuple(map(LeftItem, items, items.values()))),
        'left to do from here on: { panel = "panel screwed back" }',
        default=(),
    )
    due: tuple[DueItem, ...] = key(_by_name(DueItem, "due"), "looks after closing", default=())
    warnings: tuple[Warn, ...] = key(WARNINGS, "by signal word, before the action", name="warn", default=())
    parts: tuple[WirePart, ...] = key(_by_name(WirePart, "part"), "parts on the wire, in their order", default=())
    view: ConnectorView | None = key(inner(table(ConnectorView, "view")), "the connector in view", default=None)
    mends: tuple[Mend, ...] = key(
        _by_name(Mend, "mend", has_id=False), "remedies that open things", name="mend", default=()
    )
    asks: tuple[str, ...] = ()
    readings: tuple[Entry, ...] = ()
    checks: tuple[StepCheck, ...] = ()
    limits: tuple[StepLimit, ...] = ()

    @property
    def touches(self) -> bool:
        """True if it does anything to a zone or a piece."""
        return bool(self.isolates or self.proves_dead or self.feeds or self.hands_on or self.works or self.proves)


@record
class Section:
    """A part of the work."""

    id: str = key(STEP_ID, "its name")
    title: str = key(TEXT, "as people read it; its name in words if left out", absent="")


@dataclass(frozen=True, kw_only=True)
class Procedure:
    """A whole procedure. ``text`` is its TOML with all blocks expanded and newlines normalised, ``sha256`` its hash."""

    id: str = key(STEP_ID, "its name, the same as the file's")
    title: str = key(TEXT, "as people read it")
    revision: str = key(TEXT, "changes with every change of the text")
    summary: str = key(TEXT, "one line for the list")
    scope: str = key(TEXT, "what it covers, what it does not")
    profile: str = key(named("rule profile", profile_names), "the rule profile to begin with", default="industry")
    tools: tuple[str, ...] = key(_TEXTS, "tools to have at hand", default=())
    supplies: tuple[str, ...] = key(_TEXTS, "supplies to have at hand", default=())
    stop_and_ask: tuple[str, ...] = key(_TEXTS, "when to stop and ask, at any time", default=())
    zones: tuple[Zone, ...] = key(_by_name(Zone, "zone"), "wiring live or dead together", name="zone", default=())
    pieces: tuple[Piece, ...] = key(_by_name(Piece, "piece"), "made by hands, proved", name="piece", default=())
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
