"""``tugtest blocks``, and the lint of a block file on its own."""

from pathlib import Path

import pytest

from engine.procedure.block_alone import lint_block
from engine.shipped import folder
from tests.cli.running import Tugtest

SHIPPED = sorted((folder("procedures") / "blocks").glob("*.toml"))

GLANDS = """\
schema = 2
id = "glands"
title = "A gland on each cable"

[parameters]
where = "where the glands sit"
when = "the condition under which it is there"

[[step]]
id = "gland-{where}"
do = "Tighten the gland {where}."
why = "Water runs along a cable."
when = "{when}"
read."turns_{where}" = { ask = "Cable, turned by hand", one_of = ["does not turn", "turns"], bad = ["turns"] }
"""


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_block_has_no_fault_and_no_doubt_by_itself(path: Path) -> None:
    assert lint_block(path).lines() == [f"{path.name}: 0 faults, 0 doubts"]


def linted(folder: Path, text: str) -> list[str]:
    file = folder / "glands.toml"
    file.write_text(text, encoding="utf-8")
    return lint_block(file).lines()


def test_a_block_with_parameters_in_names_and_conditions_is_sound(tmp_path: Path) -> None:
    assert linted(tmp_path, GLANDS) == ["glands.toml: 0 faults, 0 doubts"]


@pytest.mark.parametrize(
    ("right", "wrong", "line", "said"),
    [
        ('bad = ["turns"]', 'bad = ["turn"]', 14, '"turn" is not a choice'),
        ("why =", "wyh =", 12, '"why"'),
        ("{where}.", "{were}.", 11, '"{were}" is no parameter'),
        ('id = "glands"', 'id = "gland"', 2, "not the name of the file"),
        ('title = "A gland on each cable"\n', "", 0, '"title" is missing'),
        ("one_of =", "mmm =", 14, "mmm"),
        ('when = "{when}"\n', "", 7, "nothing in the block uses it"),
        ("[[step]]", "[[stepp]]", 0, '"step" is missing'),
    ],
)
def test_a_slip_is_named_with_its_line(tmp_path: Path, right: str, wrong: str, line: int, said: str) -> None:
    found = linted(tmp_path, GLANDS.replace(right, wrong, 1))
    assert any(said in text and (not line or f"line {line}" in text) for text in found), found


def test_lint_takes_a_block_file_for_a_block(tugtest: Tugtest, tmp_path: Path) -> None:
    file = tmp_path / "glands.toml"
    file.write_text(GLANDS.replace('bad = ["turns"]', 'bad = ["turn"]'), encoding="utf-8")
    ran = tugtest("lint", str(file))
    assert ran.status == 2
    assert ran.out.endswith("glands.toml: 1 fault, 0 doubts\n")


def test_all_blocks_are_listed_by_name_with_their_titles(tugtest: Tugtest) -> None:
    ran = tugtest("blocks")
    assert [line.split()[0] for line in ran.out.splitlines()] == sorted(path.stem for path in SHIPPED)
    assert "crimp          One crimped joint, and its pull" in ran.out


def test_one_block_shows_what_it_takes_brings_and_does(tugtest: Tugtest) -> None:
    said = tugtest("blocks", "crimp").out
    wanted = ("joint: short name", "brings the piece crimp-{joint}", "works crimp-{joint}", "read slip_{joint}")
    assert [words for words in wanted if words not in said] == []


def test_an_own_block_is_listed_as_own_and_shown_in_place_of_the_shipped_one(
    tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "blocks").mkdir()
    (tmp_path / "blocks" / "crimp.toml").write_text(GLANDS, encoding="utf-8")
    assert "crimp          A gland on each cable (own)" in tugtest("blocks").out
    assert "where: where the glands sit" in tugtest("blocks", "crimp").out


def test_a_block_that_is_not_there_is_said_so(tugtest: Tugtest) -> None:
    ran = tugtest("blocks", "crmp")
    assert (ran.status, ran.err) == (2, 'there is no block "crmp"; tugtest blocks lists them\n')
