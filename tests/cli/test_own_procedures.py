"""A folder of one's own procedures: known by name to list, start and the first screen, and said to be one's own."""

from pathlib import Path

import pytest

from engine.shipped import OWN, find, folder
from tests.cli.running import Tugtest


@pytest.fixture
def own(tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a procedure of a new name and one of a shipped name, and their answers files."""
    place = tmp_path / "own"
    monkeypatch.setenv(OWN, str(place))
    for name in ("anchor-light", "outlet-12v"):
        assert tugtest("new", str(place / f"{name}.toml")).status == 0
    return place


def test_the_list_has_own_ones_by_name_called_own_and_each_name_once(tugtest: Tugtest, own: Path) -> None:
    lines = tugtest("list").out.splitlines()
    mine = [line for line in lines if line.endswith("(own)")]
    assert [line.split()[0] for line in mine] == ["outlet-12v", "anchor-light"]
    assert len([line for line in lines if line.startswith("outlet-12v ")]) == 1
    assert [line for line in lines if "answers" in line] == []


def test_an_own_one_wins_by_name_and_start_says_so(tugtest: Tugtest, own: Path) -> None:
    answers = str(own / "outlet-12v.answers.toml")
    ran = tugtest("start", "outlet-12v", "--answers", answers)
    assert ran.status == 0
    assert ran.err == f"outlet-12v: your own, {own / 'outlet-12v.toml'}\n"
    assert "closed, clean" in ran.out


def test_a_shipped_one_is_not_called_own(tugtest: Tugtest, own: Path) -> None:
    ran = tugtest("start", "sensor-repin", "--answers", "sanderling-clean")
    assert "your own" not in ran.err


def test_the_option_names_the_folder(
    tugtest: Tugtest, own: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(OWN, str(tmp_path / "empty"))
    assert "(own)" not in tugtest("list").out
    assert "(own)" in tugtest("list", "--procedures", str(own)).out


def test_the_first_screen_lists_and_begins_it(tugtest: Tugtest, own: Path) -> None:
    said = tugtest("home", "--plain", typed="\n").out
    line = next(line for line in said.splitlines() if "anchor-light:" in line)
    assert line.endswith("(own)")
    begun = tugtest("home", "--plain", typed=f"{line.split()[0]}\nPuffin\n\n\n")
    assert "Anchor light" in begun.out


def test_an_own_one_that_cannot_be_read_is_named_and_hides_no_other(tugtest: Tugtest, own: Path) -> None:
    (own / "broken.toml").write_text("id = ", encoding="utf-8")
    ran = tugtest("list")
    assert ran.status == 1
    assert ran.err.startswith("broken.toml: line 1")
    assert "anchor-light" in ran.out


def test_without_such_a_folder_there_are_the_shipped_ones(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(OWN, str(tmp_path / "none"))
    assert find("outlet-12v").parent == folder("procedures")
