"""The JSON Schema that editors use and the loader agree on good files and on files broken in one place."""

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from engine.procedure.circuit import FIELDS
from engine.procedure.model_circuit import PartKind
from engine.procedure.schema import schema_of
from engine.shipped import folder, shipped
from tests.procedure.small import BLOCK, SMALL, changed, faults_of

CASES = tomllib.loads(Path(__file__).with_name("faults.toml").read_text(encoding="utf-8"))["case"]

ONLY_THE_LOADER = (
    "is asked here",
    "is not yes or no",
    "There is no number",
    "in another order",
    "holds a number",
    "must be above zero",
    "no fact",
    "no step",
    "no section",
    "no item",
    "no zone",
    "no piece",
    "no source",
    "go in a circle",
    "ids never repeat",
    "cannot be compared",
    "is a list; this input",
    "is not a choice of this row",
    "is in two of",
    "is one too many beside",
    "which is typed for a position",
    "each position has a name of its own",
    "it must be from",
    "is not a choice; this input takes",
)
"""Faults between two places of a file, or inside a text: a schema cannot say them."""


@pytest.fixture(scope="module")
def procedures() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema_of("procedure"))


@pytest.fixture(scope="module")
def blocks() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema_of("block"))


@pytest.mark.parametrize("schema", [schema_of("procedure"), schema_of("block")], ids=["procedure", "block"])
def test_a_schema_is_one_of_the_draft_that_it_names(schema: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema


def test_both_take_a_sound_file(procedures: jsonschema.Draft202012Validator) -> None:
    assert (list(procedures.iter_errors(tomllib.loads(SMALL))), faults_of(SMALL)) == ([], [])


def test_the_schema_takes_a_sound_block(blocks: jsonschema.Draft202012Validator) -> None:
    assert list(blocks.iter_errors(tomllib.loads(BLOCK))) == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["new"] or f"without {case['old']}")
def test_both_refuse_a_broken_file(case: dict[str, Any], procedures: jsonschema.Draft202012Validator) -> None:
    refused = not procedures.is_valid(tomllib.loads(changed(case["old"], case["new"])))
    if '= "1200 V"' in case["new"]:
        pytest.skip("a fill: what fills the gap of a block, the loader alone can see")
    hidden = all(any(words in fault for words in ONLY_THE_LOADER) for fault in case["faults"])
    assert refused is not hidden


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('check.dead.known_after = "known_after"\n', ""),
        ("check.dead.known_after", "check.dead.known_later"),
        ("V = [-100, 12, 13, 100] }\nread.pair", 'V = "12" }\nread.pair'),
        ('hold = "firm"', 'hold = "form"'),
        ('hold = "firm"', "hold = true"),
        ("[parameters]", "[parameter]"),
        ('needs = { says = "steps that come before", default = "" }', 'needs = { says = "steps that come before" }'),
    ],
)  # fmt: skip
def test_both_refuse_a_broken_block(old: str, new: str, blocks: jsonschema.Draft202012Validator) -> None:
    broken = changed(old, new, BLOCK)
    assert (blocks.is_valid(tomllib.loads(broken)), faults_of(SMALL, prove_dead=broken) == []) == (False, False)


def test_every_key_of_the_language_is_described() -> None:
    bare = [path for which in ("procedure", "block") for path in undescribed(schema_of(which), (which,))]
    assert bare == []


def undescribed(schema: object, path: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Return the paths of the keys of a schema that have no description."""
    if isinstance(schema, list):
        return [found for item in schema for found in undescribed(item, path)]
    if not isinstance(schema, dict):
        return []
    here = [(*path, name) for name, key in schema.get("properties", {}).items() if is_key(path) and not said(key)]
    return [*here, *(found for name, value in schema.items() for found in undescribed(value, (*path, name)))]


def is_key(path: tuple[str, ...]) -> bool:
    """Return whether a schema declares keys: what stands under ``if`` and in rules only names them again."""
    return not {"if", "then", "else", "allOf", "oneOf", "anyOf"} & set(path)


def said(key: dict[str, object]) -> bool:
    return bool(key.get("description"))


@pytest.mark.parametrize("kind", FIELDS)
def test_every_field_of_a_part_is_described(kind: PartKind) -> None:
    rules = schema_of("procedure")["$defs"]["circuit"]["allOf"]
    (rule,) = [rule for rule in rules if rule["if"]["properties"]["kind"] == {"const": str(kind)}]
    fields = rule["then"]["properties"]["found"]["properties"]
    assert fields.keys() == FIELDS[kind].keys()
    assert all(field["description"] for field in fields.values())


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_the_schema_takes_every_shipped_procedure(path: Path, procedures: jsonschema.Draft202012Validator) -> None:
    assert [error.message for error in procedures.iter_errors(tomllib.loads(path.read_text(encoding="utf-8")))] == []


@pytest.mark.parametrize("path", sorted((folder("procedures") / "blocks").glob("*.toml")), ids=lambda path: path.stem)
def test_the_schema_takes_every_shipped_block(path: Path, blocks: jsonschema.Draft202012Validator) -> None:
    assert [error.message for error in blocks.iter_errors(tomllib.loads(path.read_text(encoding="utf-8")))] == []
