"""The key table, the printed key map, and a person's own keys."""

from pathlib import Path

import pytest

from tests.tui.pressing import QuickApp, opened, settled
from tests.tui.screen_help import screen_text
from tests.tui.walker import runner
from tui.keys import ALL, KeyFileError, key_map_text, read_key_file
from tui.screens.asking import AskScreen


def test_ids_are_there_once() -> None:
    ids = [key.id for key in ALL]
    assert len(ids) == len(set(ids))


def test_every_key_has_a_word_and_a_sentence() -> None:
    assert all(key.word and key.tooltip.endswith(".") and key.tooltip[0].isupper() for key in ALL)


def test_the_key_map_names_every_id() -> None:
    assert [key.id for key in ALL if key.id not in key_map_text()] == []


def test_the_key_map_shows_own_keys() -> None:
    line = next(line for line in key_map_text({"step.note": "k"}).split("\n") if "step.note " in line)
    assert line.startswith("k ")


def test_a_key_file_is_read_in_both_ways_of_writing(tmp_path: Path) -> None:
    file = tmp_path / "keys.toml"
    file.write_text('"step.note" = "k"\n[page]\nhelp = "f1"\n', encoding="utf-8")
    assert read_key_file(file) == {"step.note": "k", "page.help": "f1"}


def test_no_key_file_is_no_fault(tmp_path: Path) -> None:
    assert read_key_file(tmp_path / "keys.toml") == {}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('"step.nose" = "k"', "keys.toml: step.nose: is no name of a key; `tugtest keys` lists them."),
        ('"step.note" = 3', 'keys.toml: step.note: must be a key in quotes, such as "k" or "f2".'),
    ],
)
def test_a_wrong_key_file_is_refused_in_a_sentence(tmp_path: Path, text: str, message: str) -> None:
    file = tmp_path / "keys.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(KeyFileError) as refused:
        read_key_file(file)
    assert str(refused.value) == message


async def test_an_own_key_works_and_is_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "keys.toml"
    file.write_text('"step.note" = "k"\n', encoding="utf-8")
    monkeypatch.setenv("TUGTEST_KEYS", str(file))
    async with QuickApp(runner()).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert " k  note" in screen_text(pilot.app)
        await pilot.press("k")
        await settled_on(pilot, AskScreen)
        assert isinstance(pilot.app.screen, AskScreen)


async def settled_on(pilot: object, kind: type) -> None:
    from tests.tui.pressing import until

    await until(pilot, lambda: isinstance(pilot.app.screen, kind))  # type: ignore[attr-defined]


async def test_a_wrong_key_file_is_told_and_stops_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "keys.toml"
    file.write_text('"step.nose" = "k"\n', encoding="utf-8")
    monkeypatch.setenv("TUGTEST_KEYS", str(file))
    async with QuickApp(runner()).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await settled(pilot)
        assert "step.nose: is no name of a key" in " ".join(screen_text(pilot.app).split())
