"""The JSON Schema of procedure and block files, so that editors complete and check them; made from ``tables``."""

import json
from collections.abc import Iterator

from engine.procedure.build_circuit import FIELDS, FILLED
from engine.procedure.forms import Inner, Inners, Key, Schema, Table, is_table
from engine.procedure.model_circuit import PartKind
from engine.procedure.tables import BLOCK, CHECK, CIRCUIT_PART, PROCEDURE, STEP, USE
from engine.rules.registry import CHECK_NAMES, check

_DRAFT = "https://json-schema.org/draft/2020-12/schema"

_GAP = {"type": "string", "pattern": r"\{[a-z][a-z0-9_]*\}"}
"""A text of a block in which a parameter stands; what it becomes is checked where the block is used."""


def procedure_schema() -> Schema:
    """Return the JSON Schema (2020-12) of a procedure file.

    What it cannot say, the loader still finds: names that do not exist, units of another kind, gates in a circle.

    Example:
        >>> procedure_schema()["title"]
        'a whole procedure'
    """
    return {"$schema": _DRAFT, "$id": "urn:tugtest:procedure:1", **_table(PROCEDURE), "$defs": _definitions(PROCEDURE)}


def block_schema() -> Schema:
    """Return the JSON Schema (2020-12) of a file with a block of steps; its texts may hold parameters in braces.

    Example:
        >>> block_schema()["title"]
        'steps that procedures share'
    """
    whole = {**_table(BLOCK), "$defs": _definitions(BLOCK)}
    filled = _with_gaps(whole)
    return {"$schema": _DRAFT, "$id": "urn:tugtest:block:1", **(filled if is_table(filled) else {})}


SCHEMA_FILES = {"procedure.schema.json": procedure_schema, "block.schema.json": block_schema}
"""The schema files that stand beside the shipped procedures, and what each holds."""

NAMED_IN = {"procedure": "#:schema procedure.schema.json", "block": "#:schema ../block.schema.json"}
"""The first line of each shipped file, by which editors find its schema."""


def schema_text(schema: Schema) -> str:
    """Return a schema as the text of its file: JSON, one key a line, with a newline at its end."""
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def _table(table: Table) -> Schema:
    schema: Schema = {
        "title": table.says,
        "type": "object",
        "properties": {name: _key(key) for name, key in table.keys.items()},
        "required": [name for name, key in table.keys.items() if key.required],
        "additionalProperties": False,
    }
    rules = [*table.rules, *_rules_of(table)]
    return {**schema, "allOf": rules} if rules else schema


def _key(key: Key) -> Schema:
    return {"description": key.says, **_form(key)}


def _form(key: Key) -> Schema:
    if isinstance(key.form, Inner):
        return _reference(key.form.table)
    if not isinstance(key.form, Inners):
        return key.form.schema()
    table = key.form.table
    either = {"if": {"required": ["use"]}, "then": _reference(USE), "else": _reference(STEP)}
    return {"type": "array", "items": either if table is STEP else _reference(table)}


def _reference(table: Table) -> Schema:
    return {"$ref": f"#/$defs/{_name(table)}"}


def _name(table: Table) -> str:
    return "circuit-part" if table is CIRCUIT_PART else table.name


def _definitions(root: Table) -> Schema:
    return {_name(table): _table(table) for table in _inside(root)}


def _inside(table: Table) -> Iterator[Table]:
    for key in table.keys.values():
        if isinstance(key.form, Inner | Inners):
            yield key.form.table
            yield from _inside(key.form.table)
            if key.form.table is STEP:
                yield USE


def _rules_of(table: Table) -> list[Schema]:
    if table is CHECK:
        return [_rule_of_check(name) for name in CHECK_NAMES]
    if table is CIRCUIT_PART:
        return [_rule_of_part(kind) for kind in FIELDS]
    return []


def _rule_of_check(name: str) -> Schema:
    inputs = check(name).inputs
    required = [item.name for item in inputs if item.required]
    filled = {
        "properties": {item.name: {"description": f"{item.says} ({item.unit or 'a number'})"} for item in inputs},
        "additionalProperties": False,
        "required": required,
    }
    then = {"properties": {"with": filled}, "required": ["with"] if required else []}
    return {"if": {"properties": {"name": {"const": name}}, "required": ["name"]}, "then": then}


def _rule_of_part(kind: PartKind) -> Schema:
    filled = {"properties": {name: {} for name in FIELDS[kind]}, "additionalProperties": False}
    then = {"properties": dict.fromkeys(FILLED, filled)}
    return {"if": {"properties": {"kind": {"const": str(kind)}}, "required": ["kind"]}, "then": then}


def _with_gaps(schema: object) -> object:
    """Return a schema in which every text, and every list and choice of texts, may be a parameter instead."""
    if isinstance(schema, list):
        return [_with_gaps(item) for item in schema]
    if not is_table(schema):
        return schema
    if "enum" in schema or schema.get("type") == "string":
        described = {"description": schema["description"]} if "description" in schema else {}
        return {**described, "anyOf": [{k: v for k, v in schema.items() if k != "description"}, _GAP]}
    return {name: _with_gaps(value) for name, value in schema.items()}
