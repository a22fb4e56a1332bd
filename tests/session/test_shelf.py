"""What stands on the shelf: a job that is open is found however old it is; marks and answers are no sessions."""

import os
import shutil
from pathlib import Path

import pytest

from engine.session.clock import SystemClock
from engine.session.shelf import Shelf, shelf
from engine.shipped import folder
from engine.view.home import home_view

CLEAN = folder("sample_sessions") / "grey-heron-clean.toml"


@pytest.fixture
def logs(tmp_path: Path) -> Path:
    """Return a folder with four ended jobs; the oldest job of all is open."""
    whole = CLEAN.read_bytes()
    (tmp_path / "2026-01-01-open.toml").write_bytes(whole[: whole.index(b"\n[[event]]", 100_000) + 1])
    for day in range(2, 6):
        shutil.copy(CLEAN, tmp_path / f"2026-01-0{day}-ended.toml")
    return tmp_path


def names(found: Shelf) -> list[str]:
    return [line.path.name[5:-5] for line in found.lines]


def test_the_newest_stand_first(logs: Path) -> None:
    assert names(shelf(logs)) == ["01-05-ended", "01-04-ended", "01-03-ended", "01-02-ended", "01-01-open"]
    assert shelf(logs).older == 0


def test_an_open_job_is_found_behind_any_number_of_newer_ones(logs: Path) -> None:
    found = shelf(logs, most=2)
    assert names(found) == ["01-05-ended", "01-04-ended", "01-01-open"]
    assert found.older == 2


def test_an_older_log_that_cannot_be_read_is_not_passed_over(logs: Path) -> None:
    (logs / "2026-01-01-cut.toml").write_bytes(b"")
    (logs / "2026-01-01-pipe.toml").mkdir()
    found = {line.path.name: line.problem for line in shelf(logs, most=2).lines}
    assert found["2026-01-01-cut.toml"]
    assert found["2026-01-01-pipe.toml"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names on this system")
def test_a_pipe_does_not_hold_anybody_up(logs: Path) -> None:
    os.mkfifo(logs / "2026-01-01-pipe.toml")
    assert "01-01-pipe" in names(shelf(logs, most=1))


def test_marks_and_answers_are_no_sessions(logs: Path) -> None:
    (logs / "review-marks.toml").write_text("")
    (logs / "plan.answers.toml").write_text("")
    (logs / "class-rig.toml").write_text('schema = 1\n[[value]]\nentry = "a"\n')
    assert len(shelf(logs).lines) == 5


def test_the_first_screen_says_how_many_it_does_not_list(logs: Path) -> None:
    view = home_view(shelf(logs, most=2), (), logs, SystemClock().now())
    assert view.older == f"2 older sessions that have ended are not listed: tugtest review {logs} shows them all"
    assert home_view(shelf(logs), (), logs, SystemClock().now()).older == ""


def test_where_there_is_no_folder_nothing_stands(tmp_path: Path) -> None:
    assert shelf(tmp_path / "none") == Shelf(())
