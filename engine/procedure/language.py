"""The whole language of procedure files: what a procedure, a section, a step and a block may hold."""

from dataclasses import replace

from engine.procedure.checks import CHECKS
from engine.procedure.circuit import CIRCUIT
from engine.procedure.forms import TEXT, Form, called, is_table, listed, mapped, one_of, text, whole
from engine.procedure.model import SCHEMA, Procedure, Section, Step, StepLimit
from engine.procedure.model_circuit import STEP_ID
from engine.procedure.rows import ENTRY
from engine.procedure.tables import Key, Table, by_name, rows, table
from engine.source import Authority, Seen, Source

ENTRY_ID = text(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", 'small letters, digits and underscores, such as "strip_length"')
"""The name of a fact, a reading, a limit or a parameter."""


def _given(value: object) -> str:
    odd = [item for item in (value if isinstance(value, list) else [value]) if not isinstance(item, str)]
    return f"is {called(odd[0])}, should be a string or a list of strings" if odd else ""


def _parameter(value: object) -> str:
    if not is_table(value):
        return TEXT.fault(value)
    if set(value) != {"says", "default"} or _given(value["default"]):
        return 'should be what it is, or { says = "what it is", default = "" }'
    return TEXT.fault(value["says"])


GIVEN = Form(_given, lambda: {"type": ["string", "array"], "items": {"type": "string"}})
"""What a parameter is given: a string or a list of strings, which may be empty."""

_WITH_DEFAULT = {"says": TEXT.schema(), "default": GIVEN.schema()}

PARAMETER = Form(
    _parameter,
    lambda: {"oneOf": [TEXT.schema(), {"type": "object", "properties": _WITH_DEFAULT, "required": [*_WITH_DEFAULT]}]},
)
"""What a parameter is, or a table with that and its default."""

SOURCE = Table(
    "source",
    "Where a figure comes from",
    {
        "authority": Key(one_of(Authority, Authority), "who says so", "authority", required=True),
        "document": Key(TEXT, "the document, or common practice", "document", required=True),
        "place": Key(TEXT, "clause, table or page", "place"),
        "seen": Key(one_of(Seen, Seen), "how the figure reached the author", "seen", required=True),
    },
    Source,
)

STEP = table(
    Step,
    "step",
    {
        "fact": Key(by_name(ENTRY, ENTRY_ID), "facts asked in it: what is known or decided before the work"),
        "read": Key(by_name(ENTRY, ENTRY_ID), "what is measured, counted or seen in it"),
        "check": Key(CHECKS, 'named checks: check.hole = { largest = "hole_largest" }'),
        "limit": Key(by_name(table(StepLimit, "limit"), ENTRY_ID, has_id=False), "limits said in arithmetic, by name"),
    },
)

_FILLS = mapped(GIVEN, ENTRY_ID)

BORROW = Table(
    "borrow",
    "A place where the steps of a block stand",
    {
        "borrow": Key(STEP_ID, "the block whose steps stand here", required=True),
        "fill": Key(_FILLS, "its parameters"),
        "fill_each": Key(listed(_FILLS, 1), "one set of parameters for each time the block stands here"),
    },
)


def _steps() -> Form:
    """Return the form of the steps of a section or a block; a place for a block has a schema of its own."""
    here = {"if": {"required": ["borrow"]}, "then": {"$ref": "#/$defs/borrow"}, "else": {"$ref": "#/$defs/step"}}
    return replace(rows(STEP), schema=lambda: {"type": "array", "items": here}, tables=lambda: [STEP, BORROW])


_STEPS = Key(_steps(), "its steps in working order", required=True)
_SCHEMA = Key(whole(SCHEMA, SCHEMA), "version of this language", required=True)
_SOURCES = Key(by_name(SOURCE, STEP_ID), "where figures come from: a limit says from = the name")

SECTION = table(Section, "section", {"step": _STEPS})

PROCEDURE = table(
    Procedure,
    "procedure",
    {
        "schema": _SCHEMA,
        "source": _SOURCES,
        "circuit": Key(by_name(CIRCUIT, STEP_ID), "the circuit that the plan judges, its parts in order from the bank"),
        "section": Key(rows(SECTION), "the parts of the work", required=True),
    },
)

BLOCK = Table(
    "block",
    "Steps that procedures share",
    {
        "schema": _SCHEMA,
        "id": Key(STEP_ID, "its name, the same as the file's", required=True),
        "title": Key(TEXT, "what it is for", required=True),
        "parameters": Key(mapped(PARAMETER, ENTRY_ID), "what a procedure gives it, and what for"),
        "source": _SOURCES,
        **{name: PROCEDURE.keys[name] for name in ("zone", "piece")},
        "step": _STEPS,
    },
)
