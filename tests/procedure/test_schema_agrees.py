"""The JSON Schema that editors use and the loader agree on good files and on files broken in one place."""

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from engine.procedure.schema import block_schema, procedure_schema
from engine.shipped import folder, shipped
from tests.procedure.small import BLOCK, SMALL, changed, faults_of

CASES = tomllib.loads(Path(__file__).with_name("faults.toml").read_text(encoding="utf-8"))["case"]

ONLY_THE_LOADER = (
    "needs a unit",
    "is asked here",
    "is not yes or no",
    "decimal mark",
    "both the same; write the least",
    "There is no number",
    "lies outside hard",
    "must be above zero",
    "no fact",
    "no step",
    "no section",
    "no item",
    "ids never repeat",
    "cannot be compared",
    "is a list; this input",
    "which is typed for a position",
    "each position has a name of its own",
)
"""Faults between two places of a file, or inside a text: a schema cannot say them."""


RANGES = '  hard = ["-100 V", "100 V"]\n  likely = ["-0.1 V", "0.1 V"]\n'


@pytest.fixture(scope="module")
def procedures() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(procedure_schema())


@pytest.fixture(scope="module")
def blocks() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(block_schema())


@pytest.mark.parametrize("schema", [procedure_schema(), block_schema()], ids=["procedure", "block"])
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
    hidden = all(any(words in fault for words in ONLY_THE_LOADER) for fault in case["faults"])
    assert refused is not hidden


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("known_after = \"known_after\", ", ""),
        ("known_after = \"known_after\"", 'known_later = "known_after"'),
        (f'id = "pair"\n  ask = "Red to black"\n  unit = "V"\n{RANGES}', 'id = "pair"\n  ask = "x"\n  unit = "V"\n'),
        ('hold = "firm"', 'hold = "form"'),
        ('hold = "firm"', "hold = true"),
        ('name = "dead"', 'name = "daed"'),
        ("[parameters]", "[parameter]"),
    ],
)  # fmt: skip
def test_both_refuse_a_broken_block(old: str, new: str, blocks: jsonschema.Draft202012Validator) -> None:
    broken = changed(old, new, BLOCK)
    assert (blocks.is_valid(tomllib.loads(broken)), faults_of(SMALL, prove_dead=broken) == []) == (False, False)


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_the_schema_takes_every_shipped_procedure(path: Path, procedures: jsonschema.Draft202012Validator) -> None:
    assert [error.message for error in procedures.iter_errors(tomllib.loads(path.read_text(encoding="utf-8")))] == []


@pytest.mark.parametrize("path", sorted((folder("procedures") / "blocks").glob("*.toml")), ids=lambda path: path.stem)
def test_the_schema_takes_every_shipped_block(path: Path, blocks: jsonschema.Draft202012Validator) -> None:
    assert [error.message for error in blocks.iter_errors(tomllib.loads(path.read_text(encoding="utf-8")))] == []
