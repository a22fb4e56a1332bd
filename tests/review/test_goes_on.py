"""Two logs of one session: the one that could not be written any more says in which file the session goes on."""

import shutil
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.review.folder import look
from engine.review.index import Index
from engine.session import commands as c
from engine.session.clock import SystemClock
from engine.session.journal import Journal
from engine.session.outcome import Recorded
from engine.session.runner import Runner
from engine.shipped import find
from tests.review.forging import ALTERED, CLEAN


def moved(folder: Path) -> None:
    """Begin a job, carry its log on elsewhere, and bring both logs together in one folder."""
    runner = Runner.start(load(find("bow-receptacle")), c.Start("Test Tern", "A. B."), folder / "card", SystemClock())
    assert isinstance(runner.send(c.Take("motor_current", "48 A")), Recorded)
    shutil.copy(runner.path, folder / "first.toml")
    assert isinstance(runner.move(folder / "stick", "the card is full"), Recorded)
    assert isinstance(runner.send(c.Take("nominal", "24")), Recorded)
    runner.close()
    shutil.copy(runner.path, folder / "second.toml")


@pytest.fixture
def told(tmp_path: Path) -> dict[str, str]:
    moved(tmp_path)
    shutil.copy(CLEAN, tmp_path / "other.toml")
    with Index() as index:
        return {row.name: row.goes_on for row in look(tmp_path, index, jobs=1).rows}


def test_the_first_log_names_the_second_and_no_other_names_any(told: dict[str, str]) -> None:
    assert told == {"first.toml": "second.toml", "second.toml": "", "other.toml": ""}


def test_two_copies_that_went_different_ways_are_not_taken_for_one_session(tmp_path: Path) -> None:
    moved(tmp_path)
    shutil.copy(tmp_path / "first.toml", tmp_path / "second.toml")
    for name, volts in (("first.toml", "12"), ("second.toml", "24")):
        runner = Runner.resume(tmp_path / name, SystemClock())
        assert isinstance(runner.send(c.Take("nominal", volts)), Recorded)
        runner.close()
    with Index() as index:
        assert [row.goes_on for row in look(tmp_path, index, jobs=1).rows] == ["", ""]


def test_an_entry_that_the_disk_never_confirmed_may_stand_in_the_first_log_all_the_same(tmp_path: Path) -> None:
    moved(tmp_path)
    unconfirmed = Journal.open(tmp_path / "first.toml")
    unconfirmed.append(
        [{"event": "note", "n": 3, "at": "2026-05-02T09:00:00+00:00", "mono": 1.0, "step": "", "text": "x"}]
    )
    unconfirmed.close()
    with Index() as index:
        assert [row.goes_on for row in look(tmp_path, index, jobs=1).rows] == ["second.toml", ""]


def test_what_the_index_knows_says_so_too(tmp_path: Path) -> None:
    moved(tmp_path)
    with Index(tmp_path / "index.sqlite") as index:
        look(tmp_path, index, jobs=1)
        again = look(tmp_path, index, jobs=1)
    assert again.audited == 0
    assert [row.goes_on for row in again.rows] == ["second.toml", ""]


def test_a_log_that_was_altered_does_not_pass_for_the_beginning_of_the_sound_one(tmp_path: Path) -> None:
    shutil.copy(CLEAN, tmp_path / "clean.toml")
    shutil.copy(ALTERED, tmp_path / "altered.toml")
    with Index() as index:
        assert [row.goes_on for row in look(tmp_path, index, jobs=1).rows] == ["", ""]
