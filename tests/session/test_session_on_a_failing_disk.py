"""A whole session on a disk that fails at any one call: what stands is what the log says, and it goes on elsewhere."""

import errno
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from jobs import limit, procedure, reading, step
from journal_fakes import FailingDisk, refused

from engine.session import commands as c
from engine.session.apply import fold
from engine.session.clock import GivenClock
from engine.session.codec import from_flat
from engine.session.journal import Journal
from engine.session.outcome import Recorded, Unrecorded
from engine.session.runner import Runner
from engine.session.scan import read_log
from engine.session.state import State
from engine.session.trouble import LogRefused, NotRecorded

JOB = procedure(step("one", "", reading("v") + limit("v >= 1 V")) + step("two", 'needs = ["one"]', reading("w")))
SETS_BACK_AT = 2
COMMANDS: tuple[c.Command, ...] = (
    c.Take("v", "5"), c.Correct("v", "6", "misread"), c.Finish("one"), c.Leave("tea"), c.Return(), c.Take("w", "1"),
    c.Finish("two"), c.Close(),
)  # fmt: skip


class SetBack(GivenClock):
    """A wall clock that can be set back while the steady one runs on."""

    back_s = 0.0

    def now(self) -> datetime:
        return self.glance()

    def glance(self) -> datetime:
        return super().glance() - timedelta(seconds=self.back_s)


def state_in(log: Path, count: int) -> State:
    return fold(from_flat(event) for event in read_log(log).events[:count])


def work(folder: Path, disk: FailingDisk) -> tuple[Runner, list[c.Command]]:
    """Do the job on a disk; return the session and the commands that were not recorded, each held against the log."""
    clock = SetBack(datetime(2026, 5, 2, 9, tzinfo=UTC))
    runner = Runner.start(JOB, c.Start("Test Tern", "A. B."), folder, clock)
    runner._journal._disk = disk  # type: ignore[assignment]
    left = list(COMMANDS)
    while left:
        clock.pass_time(60)
        clock.back_s = 600.0 if len(left) <= len(COMMANDS) - SETS_BACK_AT else 0.0
        outcome = runner.send(left[0])
        assert isinstance(outcome, Recorded | Unrecorded), outcome
        assert state_in(runner.path, runner.count) == runner.state
        if isinstance(outcome, Unrecorded):
            return runner, left
        left.pop(0)
    return runner, left


def calls_of_a_whole_job(folder: Path) -> int:
    disk = FailingDisk()
    work(folder, disk)[0].close()
    return len(disk.calls)


def test_a_job_whose_opening_is_not_recorded_leaves_no_log_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(journal: Journal, block: bytes) -> None:
        raise NotRecorded("not recorded: no space left on device")

    monkeypatch.setattr(Journal, "_write", full)
    with pytest.raises(LogRefused, match="no space left"):
        Runner.start(JOB, c.Start("Test Tern", "A. B."), tmp_path, GivenClock(datetime(2026, 5, 2, 9, tzinfo=UTC)))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EROFS])
def test_a_disk_that_fails_at_any_call_leaves_a_session_that_goes_on_in_another_folder(
    tmp_path: Path, number: int
) -> None:
    for fail_at in range(calls_of_a_whole_job(tmp_path / "whole")):
        here, elsewhere = tmp_path / f"here-{fail_at}", tmp_path / f"elsewhere-{fail_at}"
        runner, left = work(here, FailingDisk(fail_at, refused(number)))
        assert left or runner.state.closed
        before, first = runner.state.count, runner.path
        assert isinstance(runner.move(elsewhere, "the card failed"), Recorded) == bool(runner.path.parent == elsewhere)
        for command in left:
            assert isinstance(runner.send(command), Recorded), f"call {fail_at}: {command}"
        runner.close()
        assert runner.state.closed
        assert state_in(runner.path, before) == state_in(first, before)
        assert fold(from_flat(event) for event in read_log(runner.path).events) == runner.state
        shutil.rmtree(here)
