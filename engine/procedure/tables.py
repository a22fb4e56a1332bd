"""The one description of a procedure file: every table, key, form and meaning. Loader and JSON Schema both read it."""

from engine.finding import Verdict
from engine.procedure.forms import (
    Inner,
    Inners,
    Key,
    Listed,
    Mapped,
    Named,
    OneOf,
    Pair,
    Schema,
    Span,
    Table,
    Text,
    TextOrTexts,
    Unit,
    Whole,
    YesNo,
)
from engine.procedure.model import SCHEMA, Hold, Signal
from engine.procedure.model_circuit import PLAN, PartKind
from engine.published.instruments import instrument_ids
from engine.published.profiles import profile_names
from engine.quantity.pin_rows import MOST_FAR, MOST_ROWS, NAME, PIN_MAP
from engine.quantity.wanted import LABEL_UNITS
from engine.rules.registry import CHECK_NAMES
from engine.source import Authority, Seen

STEP_ID = Text(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", 'small letters, digits and hyphens, such as "prove-dead"')
ENTRY_ID = Text(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", 'small letters, digits and underscores, such as "strip_length"')
POSITION_NAME = Text(NAME, 'one to eight letters and digits, such as "7" or "left"')
CHOICE = Text(r"[^;]*[^;\s][^;]*", 'words without ";", which parts several values in one line')
TOPIC = Text()

CONDITION = Text()

KNOWN_WORDS = ("measured", "label", "seen", "told")
"""The words for how a thing is known, in the order of ``model.Known``."""


def unit_in(*units: str) -> Schema:
    """Return the schema of a table whose unit is one of these."""
    return {"properties": {"unit": {"enum": list(units)}}, "required": ["unit"]}


def having(key: str) -> Schema:
    """Return the schema of a table that has a key."""
    return {"required": [key]}


def without(*keys: str) -> Schema:
    """Return the schema of a table that has none of these keys."""
    return {"not": {"anyOf": [having(key) for key in keys]}}


_WHEN = Key(CONDITION, "only if this condition holds")

ENTRY = Table(
    "entry",
    {
        "id": Key(ENTRY_ID, "its name in limits and checks; never reused", required=True),
        "ask": Key(Text(), "what is asked, as the person reads it", required=True),
        "why": Key(Text(), "what it is needed for"),
        "unit": Key(Unit(), "the unit of a bare number, or wire, yes/no, choice, words, pin map", required=True),
        "hard": Key(Pair(), "least and largest value that is taken at all"),
        "likely": Key(Pair(), "least and largest value that is taken without a question"),
        "known": Key(OneOf(KNOWN_WORDS), "how it is known"),
        "instrument": Key(Named("instrument", instrument_ids), "the usual instrument, by its id"),
        "signed": Key(YesNo(), "whether + or - must be typed"),
        "over_range": Key(YesNo(), "whether OL is an answer"),
        "choices": Key(Listed(CHOICE, 2), "the answers to choose from"),
        "positions": Key(Listed(POSITION_NAME, 1, MOST_ROWS), "the positions of a pin map, each a row"),
        "far": Key(Listed(POSITION_NAME, 1, MOST_FAR), "the positions of its other end, if they are others"),
        "offers": Key(Listed(Text(), 1), "clauses of the words that one key takes: <id> is a value, <date> the day"),
        "skip": Key(Listed(Text(), 1), "the reasons for not measuring it"),
        "repeats": Key(Whole(1, 9), "how often it is taken"),
        "group": Key(Text(), "readings of one group belong to the same minute"),
        "when": _WHEN,
    },
    "one thing that is asked",
    (
        {
            "if": unit_in(*LABEL_UNITS),
            "then": without("hard", "likely", "signed", "over_range"),
            "else": having("hard"),
        },
        {"if": unit_in("choice"), "then": having("choices"), "else": without("choices")},
        {"if": unit_in(PIN_MAP), "then": having("positions"), "else": without("positions", "far")},
        {"if": unit_in("words"), "else": without("offers")},
    ),
)

WARNING = Table(
    "warning",
    {
        "word": Key(OneOf(tuple(Signal)), "the signal word by consequence", required=True),
        "hazard": Key(Text(), "what can hurt", required=True),
        "avoid": Key(Text(), "how to avoid it", required=True),
        "consequence": Key(Text(), "what follows if not"),
    },
    "a warning shown before the step's action",
)

SOURCE = Table(
    "source",
    {
        "authority": Key(OneOf(tuple(Authority)), "who says so", required=True),
        "document": Key(Text(), "the document, or common practice", required=True),
        "place": Key(Text(), "clause, table or page"),
        "seen": Key(OneOf(tuple(Seen)), "how the figure reached the author", required=True),
    },
    "where a figure comes from",
)

LIMIT = Table(
    "limit",
    {
        "is": Key(CONDITION, "what must hold", required=True),
        "otherwise": Key(
            OneOf((Verdict.FAIL, Verdict.MARGINAL, Verdict.UNDECIDED)), "the verdict if it does not", required=True
        ),
        "says": Key(Text(), "the reason, as the person reads it", required=True),
        "source": Key(Inner(SOURCE), "where the limit comes from", required=True),
    },
    "a limit said in arithmetic",
)

CHECK = Table(
    "check",
    {
        "name": Key(Named("check", lambda: (PLAN, *CHECK_NAMES)), "the check, or plan for the circuit", required=True),
        "with": Key(Mapped(TextOrTexts()), "the entries or amounts that fill its inputs"),
        "when": _WHEN,
    },
    "a named check on readings",
    ({"if": {"properties": {"name": {"const": PLAN}}}, "then": {"properties": {"with": {"maxProperties": 0}}}},),
)

WIRE_PART = Table(
    "part",
    {
        "id": Key(STEP_ID, "its name", required=True),
        "name": Key(Text(), "what people call it", required=True),
        "facing": Key(Text(), "which way it faces"),
    },
    "a part that goes on the wire first",
)

LEFT_ITEM = Table(
    "opens",
    {"id": Key(STEP_ID, "its name", required=True), "says": Key(Text(), "what is to be finished", required=True)},
    "something to finish before closing",
)

DUE_ITEM = Table(
    "due",
    {
        "id": Key(STEP_ID, "its name", required=True),
        "says": Key(Text(), "what to look at", required=True),
        "after": Key(Span(), "how long after closing", required=True),
    },
    "a dated look after closing",
)

POSITION = Table(
    "position",
    {
        "number": Key(Text(), "its number as printed on the part", required=True),
        "where": Key(Text(), "where it sits in this view", required=True),
        "carries": Key(Text(), "what lands there", required=True),
    },
    "one position of a connector",
)

VIEW = Table(
    "view",
    {
        "title": Key(Text(), "which connector", required=True),
        "seen_from": Key(Text(), "the face or the wire side", required=True),
        "positions": Key(Inners(POSITION), "its positions", required=True),
    },
    "a connector as seen from one side",
)

STEP = Table(
    "step",
    {
        "id": Key(STEP_ID, "its name; never reused", required=True),
        "section": Key(STEP_ID, "the section it belongs to", required=True),
        "title": Key(Text(), "two to five words", required=True),
        "action": Key(Text(), "one action, one verb", required=True),
        "why": Key(Text(), "why it is done", required=True),
        "hold": Key(OneOf((Hold.HOLD, Hold.FIRM)), "ends on evidence; firm has no override"),
        "asks": Key(Listed(ENTRY_ID), "facts asked in this step"),
        "needs": Key(Listed(STEP_ID), "steps that must be done, and still valid, before this one"),
        "voids": Key(Listed(STEP_ID), "steps to be done again when this one is done again"),
        "ends": Key(Listed(STEP_ID), "steps whose evidence ends when this one is done"),
        "lasts_away": Key(Span(), "its evidence ends after this time away"),
        "lasts": Key(Span(), "its evidence ends at this age"),
        "irreversible": Key(Text(), "the verb that cannot be undone"),
        "stop_if": Key(Listed(Text()), "when to stop and ask"),
        "leaves": Key(Mapped(TOPIC), "the physical state after the step, by topic"),
        "closes": Key(Listed(STEP_ID), "things left to do that this step finishes"),
        "when": _WHEN,
        "warning": Key(Inners(WARNING), "shown before the action"),
        "reading": Key(Inners(ENTRY), "what is measured, counted or seen"),
        "check": Key(Inners(CHECK), "named checks"),
        "limit": Key(Inners(LIMIT), "limits said in arithmetic"),
        "part": Key(Inners(WIRE_PART), "parts that must be on the wire"),
        "opens": Key(Inners(LEFT_ITEM), "left to do from here on"),
        "due": Key(Inners(DUE_ITEM), "looks after closing"),
        "view": Key(Inner(VIEW), "the connector in view"),
    },
    "one action with its why, warnings, gates and evidence",
)

USE = Table(
    "use",
    {
        "use": Key(STEP_ID, "the block whose steps stand here", required=True),
        "with": Key(Mapped(TextOrTexts(0)), "its parameters"),
        "each": Key(Listed(Mapped(TextOrTexts(0)), 1), "one set of parameters a time the block is repeated"),
    },
    "a place where the steps of a block stand",
)

SECTION = Table(
    "section",
    {
        "id": Key(STEP_ID, "its name", required=True),
        "title": Key(Text(), "as people read it", required=True),
        "needs": Key(Listed(STEP_ID), "gates of every step in it"),
    },
    "a part of the work",
)

CIRCUIT_PART = Table(
    "part",
    {
        "id": Key(STEP_ID, "its name", required=True),
        "kind": Key(OneOf(tuple(PartKind)), "what it is", required=True),
        "name": Key(Text(), "what people call it", required=True),
        "found": Key(Mapped(TextOrTexts()), "the entries that fill it, as found", required=True),
        "planned": Key(Mapped(TextOrTexts()), "the entries that differ, as planned"),
        "built": Key(Mapped(TextOrTexts()), "the readings of the work that take their place afterwards"),
        "when": _WHEN,
    },
    "a part of the circuit, in order from the bank",
)

CIRCUIT = Table("circuit", {"part": Key(Inners(CIRCUIT_PART), "its parts", required=True)}, "the whole circuit")

PROCEDURE = Table(
    "procedure",
    {
        "schema": Key(Whole(SCHEMA, SCHEMA), "version of this format", required=True),
        "id": Key(STEP_ID, "its name, the same as the file's", required=True),
        "title": Key(Text(), "as people read it", required=True),
        "revision": Key(Text(), "changes with every change of the text", required=True),
        "summary": Key(Text(), "one line for the list", required=True),
        "scope": Key(Text(), "what it covers, what it does not", required=True),
        "profile": Key(Named("rule profile", profile_names), "the rule profile to begin with", required=True),
        "tools": Key(Listed(Text()), "tools to have at hand"),
        "supplies": Key(Listed(Text()), "supplies to have at hand"),
        "stop_and_ask": Key(Listed(Text()), "when to stop and ask, at any time"),
        "fact": Key(Inners(ENTRY), "asked before the work"),
        "circuit": Key(Inner(CIRCUIT), "the circuit that the plan judges"),
        "section": Key(Inners(SECTION), "the parts of the work", required=True),
        "step": Key(Inners(STEP), "the steps in working order", required=True),
    },
    "a whole procedure",
)

BLOCK = Table(
    "block",
    {
        "schema": Key(Whole(SCHEMA, SCHEMA), "version of this format", required=True),
        "id": Key(STEP_ID, "its name, the same as the file's", required=True),
        "title": Key(Text(), "what it is for", required=True),
        "parameters": Key(Mapped(Text()), "what a procedure must give it, and what for"),
        "fact": Key(Inners(ENTRY), "facts that its steps need"),
        "step": Key(Inners(STEP), "its steps in working order", required=True),
    },
    "steps that procedures share",
)
