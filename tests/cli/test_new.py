"""``tugtest new``: what it writes is sound, plays clean, and nothing that is there is written over."""

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from engine.shipped import shipped
from tests.cli.running import Tugtest


@pytest.mark.parametrize("like", [path.stem for path in shipped()])
def test_a_new_procedure_has_no_fault_and_no_doubt_and_its_answers_close_it_clean(
    tugtest: Tugtest, tmp_path: Path, like: str
) -> None:
    file = tmp_path / "mine" / "anchor-light.toml"
    assert tugtest("new", str(file), "--from", like).status == 0
    linted = tugtest("lint", str(file))
    assert (linted.status, linted.out) == (0, "anchor-light.toml: 0 faults, 0 doubts\n")
    played = tugtest("start", str(file), "--answers", str(file.with_suffix(".answers.toml")))
    assert played.status == 0
    assert "closed, clean" in played.out


def test_it_takes_the_head_of_the_procedure_that_is_named(tugtest: Tugtest, tmp_path: Path) -> None:
    file = tmp_path / "anchor-light.toml"
    tugtest("new", str(file), "--from", "nav-lights")
    mine = tomllib.loads(file.read_text(encoding="utf-8"))
    theirs = tomllib.loads(next(path for path in shipped() if path.stem == "nav-lights").read_text(encoding="utf-8"))
    taken = ("tools", "supplies", "stop_and_ask")
    assert [mine[key] for key in taken] == [theirs[key] for key in taken]
    assert (mine["id"], mine["title"]) == ("anchor-light", "Anchor light")


def test_the_schemas_beside_it_are_those_that_its_first_line_and_blocks_name(tugtest: Tugtest, tmp_path: Path) -> None:
    file = tmp_path / "anchor-light.toml"
    tugtest("new", str(file))
    text = file.read_text(encoding="utf-8")
    named = text.split("\n")[0].removeprefix("#:schema ")
    jsonschema.validate(tomllib.loads(text), json.loads((tmp_path / named).read_text(encoding="utf-8")))
    assert json.loads((tmp_path / "block.schema.json").read_text(encoding="utf-8"))["properties"]["parameters"]


@pytest.mark.parametrize("there", ["anchor-light.toml", "anchor-light.answers.toml"])
def test_a_file_that_is_there_is_left_as_it_is(tugtest: Tugtest, tmp_path: Path, there: str) -> None:
    (tmp_path / there).write_text("mine", encoding="utf-8")
    ran = tugtest("new", str(tmp_path / "anchor-light.toml"))
    assert ran.status == 2
    assert "is there already" in ran.err
    assert [(p.name, p.read_text(encoding="utf-8")) for p in tmp_path.iterdir()] == [(there, "mine")]


@pytest.mark.parametrize("name", ["Anchor Light.toml", "anchor-light", "anchor_light.toml"])
def test_a_name_that_no_procedure_can_have_is_refused(tugtest: Tugtest, tmp_path: Path, name: str) -> None:
    ran = tugtest("new", str(tmp_path / name))
    assert ran.status == 2
    assert "small letters" in ran.err
    assert not list(tmp_path.iterdir())


def tables(schema: object) -> list[dict[str, dict[str, object]]]:
    """Return the properties of every table that a schema describes, at whatever depth."""
    if isinstance(schema, list):
        return [found for one in schema for found in tables(one)]
    if not isinstance(schema, dict):
        return []
    mine = [schema["properties"]] if schema.get("type") == "object" and schema.get("title") else []
    return mine + [found for one in schema.values() for found in tables(one)]


@pytest.mark.parametrize("which", ["procedure", "block"])
def test_one_command_gives_both_schemas_and_each_key_says_what_it_is(tugtest: Tugtest, which: str) -> None:
    found = tables(json.loads(tugtest("lint", "--schema", which).out))
    keys = {name for table in found for name in table}
    assert {"do", "hands_on", "rests_on", "borrow", "one_of", "hazard", "found"} <= keys
    assert [name for table in found for name, said in table.items() if not said.get("description")] == []
