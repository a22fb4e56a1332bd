"""The whole language of procedure files: what a procedure, a section, a step and a block may hold."""

from dataclasses import dataclass

from engine.procedure.checks import CHECKS
from engine.procedure.circuit import CIRCUIT
from engine.procedure.forms import Form, Listed, Mapped, OneOf, Schema, Text, Whole, called, is_table
from engine.procedure.model import SCHEMA, Procedure, Section, Step, StepLimit
from engine.procedure.model_circuit import STEP_ID
from engine.procedure.rows import ENTRY
from engine.procedure.tables import ById, Inner, Key, Rows, Table, table
from engine.source import Authority, Seen, Source

ENTRY_ID = Text(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", 'small letters, digits and underscores, such as "strip_length"')
"""The name of a fact, a reading or a parameter."""


@dataclass(frozen=True, slots=True)
class Given(Form):
    """What a parameter is given: a string or a list of strings, either of which may be empty."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        wrong = next(
            (item for item in (value if isinstance(value, list) else [value]) if not isinstance(item, str)), ""
        )
        return f"is {called(wrong)}, should be a string or a list of strings" if wrong != "" else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": ["string", "array"], "items": {"type": "string"}}


@dataclass(frozen=True, slots=True)
class Parameter(Form):
    """What a parameter is, or a table with that and its default."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not is_table(value):
            return Text().fault(value)
        default = Given().fault(value.get("default"))
        if set(value) != {"says", "default"} or default:
            return 'should be what it is, or { says = "what it is", default = "" }'
        return Text().fault(value["says"])

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        keys = {"says": Text().schema(), "default": Given().schema()}
        return {"oneOf": [Text().schema(), {"type": "object", "properties": keys, "required": list(keys)}]}


SOURCE = Table(
    "source",
    "Where a figure comes from",
    {
        "authority": Key(OneOf(tuple(Authority), Authority), "who says so", "authority", required=True),
        "document": Key(Text(), "the document, or common practice", "document", required=True),
        "place": Key(Text(), "clause, table or page", "place"),
        "seen": Key(OneOf(tuple(Seen), Seen), "how the figure reached the author", "seen", required=True),
    },
    Source,
)

STEP = table(
    Step,
    "step",
    {
        "fact": Key(ById(Inner(ENTRY), ENTRY_ID), "facts asked in it: what is known or decided before the work"),
        "read": Key(ById(Inner(ENTRY), ENTRY_ID), "what is measured, counted or seen in it"),
        "check": Key(CHECKS, 'named checks: check.hole = { largest = "hole_largest" }'),
        "limit": Key(Mapped(Inner(table(StepLimit, "limit")), ENTRY_ID), "limits said in arithmetic, each by a name"),
    },
)

BORROW = Table(
    "borrow",
    "A place where the steps of a block stand",
    {
        "borrow": Key(STEP_ID, "the block whose steps stand here", required=True),
        "fill": Key(Mapped(Given(), ENTRY_ID), "its parameters"),
        "fill_each": Key(
            Listed(Mapped(Given(), ENTRY_ID), 1), "one set of parameters for each time the block stands here"
        ),
    },
)

SECTION = table(Section, "section", {"step": Key(Rows(STEP), "its steps in working order", required=True)})

_SCHEMA = Key(Whole(SCHEMA, SCHEMA), "version of this language", required=True)
_SOURCES = Key(ById(Inner(SOURCE), STEP_ID), "where figures come from: a limit says from = the name")

PROCEDURE = table(
    Procedure,
    "procedure",
    {
        "schema": _SCHEMA,
        "source": _SOURCES,
        "circuit": Key(Rows(CIRCUIT), "the circuit that the plan judges, its parts in order from the bank"),
        "section": Key(Rows(SECTION), "the parts of the work", required=True),
    },
)

BLOCK = Table(
    "block",
    "Steps that procedures share",
    {
        "schema": _SCHEMA,
        "id": Key(STEP_ID, "its name, the same as the file's", required=True),
        "title": Key(Text(), "what it is for", required=True),
        "parameters": Key(Mapped(Parameter(), ENTRY_ID), "what a procedure gives it, and what for"),
        "source": _SOURCES,
        **{name: PROCEDURE.keys[name] for name in ("zone", "piece")},
        "step": Key(Rows(STEP), "its steps in working order", required=True),
    },
)
