"""The JSON Schema of procedure and block files, so that editors complete and check them; made from ``language``."""

import json
from collections.abc import Iterator
from typing import Literal

from engine.procedure.circuit import CIRCUIT, FIELDS, FILLED, wanted
from engine.procedure.forms import Schema, is_table, texts
from engine.procedure.language import BLOCK, PROCEDURE
from engine.procedure.model import SCHEMA
from engine.procedure.model_circuit import PartKind
from engine.procedure.tables import Table

WHICH = ("procedure", "block")
"""The files that have a schema."""

_GAP = {"type": "string", "pattern": r"\{[a-z][a-z0-9_]*\}"}
"""A text of a block in which a parameter stands; what it becomes is checked where the block is borrowed."""


def schema_text(which: Literal["procedure", "block"]) -> str:
    """Return the schema as the text of its file: JSON, one key a line, with a newline at its end."""
    return json.dumps(schema_of(which), indent=1, ensure_ascii=False) + "\n"


def schema_of(which: Literal["procedure", "block"]) -> Schema:
    """Return the JSON Schema (2020-12) of a procedure file, or of a block, whose texts may hold parameters in braces.

    What it cannot say, the loader still finds: names that do not exist, units of another kind, gates in a circle.

    Example:
        >>> schema_of("block")["title"]
        'Steps that procedures share'
    """
    root = PROCEDURE if which == "procedure" else BLOCK
    defined = {each.name: _table(each) for each in _inside(root)}
    whole: Schema = {**_table(root), "$defs": defined}
    if which == "block":
        whole = {name: _with_gaps(value) for name, value in whole.items()}
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": f"urn:tugtest:{which}:{SCHEMA}"}
    return {**head, **whole}


def _table(table: Table) -> Schema:
    schema: Schema = {
        "title": table.says,
        "type": "object",
        "properties": {name: {"description": key.says, **key.form.schema()} for name, key in table.keys.items()},
        "required": [name for name, key in table.keys.items() if key.required],
        "additionalProperties": False,
    }
    rules = [*table.rules, *(map(_rule_of_part, FIELDS) if table is CIRCUIT else ())]
    return {**schema, "allOf": rules} if rules else schema


def _inside(table: Table) -> Iterator[Table]:
    """Give every table that stands in a table, at whatever depth."""
    for key in table.keys.values():
        for inner in key.form.tables():
            yield inner
            yield from _inside(inner)


def _rule_of_part(kind: PartKind) -> Schema:
    fields: Schema = {name: {"description": _says_field(kind, name), **texts().schema()} for name in FIELDS[kind]}
    filled = {"properties": fields, "additionalProperties": False}
    then = {"properties": dict.fromkeys(FILLED, filled)}
    return {"if": {"properties": {"kind": {"const": str(kind)}}, "required": ["kind"]}, "then": then}


def _says_field(kind: PartKind, name: str) -> str:
    takes = wanted(kind, name)
    return f"{FIELDS[kind][name].says} ({', '.join(takes.choices) or takes.unit or 'a count'})"


def _with_gaps(schema: object) -> object:
    """Return a schema in which every text may hold a parameter instead."""
    if isinstance(schema, list):
        return [_with_gaps(item) for item in schema]
    if not is_table(schema):
        return schema
    if "enum" in schema or schema.get("type") == "string":
        described = {"description": schema["description"]} if "description" in schema else {}
        return {**described, "anyOf": [{k: v for k, v in schema.items() if k != "description"}, _GAP]}
    return {name: _with_gaps(value) for name, value in schema.items()}
