"""One session on a real log: resumed at the same state, its torn tail noted, moved, and unchanged if not recorded."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from jobs import limit, procedure, reading, step

from engine.session import commands as c
from engine.session.apply import UNTOLD_S
from engine.session.clock import GivenClock
from engine.session.codec import from_flat
from engine.session.events import ClockNoted, Event, Moved, Returned, TailSetAside
from engine.session.outcome import Recorded, Refusal, Unrecorded
from engine.session.runner import Runner
from engine.session.scan import read_log
from engine.session.trouble import LogBusy, LogRefused, NotRecorded

BEGAN = datetime(2026, 5, 2, 9, tzinfo=UTC)
JOB = procedure(step("one", "", reading("v") + limit("v >= 1 V")) + step("two"))


def clock(minutes: float = 0) -> GivenClock:
    return GivenClock(BEGAN + timedelta(minutes=minutes), 1)


def begun(folder: Path) -> Runner:
    runner = Runner.start(JOB, c.Start("Test Tern", "A. Tester"), folder, clock())
    assert isinstance(runner.send(c.Take("v", "5")), Recorded)
    return runner


def events(log: Path) -> list[Event]:
    return [from_flat(flat).event for flat in read_log(log).events]


def test_a_resumed_session_stands_where_it_was_and_says_how_long_it_was_away(tmp_path: Path) -> None:
    first = begun(tmp_path)
    first.close()
    again = Runner.resume(first.path, clock(20))
    again.close()
    assert again.state.given == first.state.given
    assert events(first.path)[-1] == Returned(away_s=1199.0)


def test_a_second_writer_is_refused_and_the_first_goes_on(tmp_path: Path) -> None:
    first = begun(tmp_path)
    with pytest.raises(LogBusy):
        Runner.resume(first.path, clock(1))
    assert isinstance(first.send(c.Finish("one")), Recorded)
    first.close()


def test_a_torn_tail_is_set_aside_and_noted_before_the_return(tmp_path: Path) -> None:
    first = begun(tmp_path)
    first.close()
    whole = first.path.read_bytes()
    first.path.write_bytes(whole + b'[[event]]\nevent = "no')
    again = Runner.resume(first.path, clock(1))
    again.close()
    aside, back = events(first.path)[-2:]
    assert isinstance(aside, TailSetAside)
    assert isinstance(back, Returned)
    assert (tmp_path / aside.name).read_bytes() == b'[[event]]\nevent = "no'


def test_what_the_disk_does_not_take_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    runner = begun(tmp_path)

    def full(flats: object) -> None:
        raise NotRecorded("the disk is full")

    before, count = dict(runner.state.done), runner.count
    with monkeypatch.context() as patched:
        patched.setattr(runner._journal, "append", full)
        assert runner.send(c.Finish("one")) == Unrecorded("the disk is full")
    assert (runner.state.done, runner.count) == (before, count)
    assert isinstance(runner.send(c.Finish("one")), Recorded)
    runner.close()


def test_a_log_that_moved_carries_on_its_chain_in_the_other_folder(tmp_path: Path) -> None:
    runner = begun(tmp_path / "a")
    was, count = runner.path, runner.count
    (tmp_path / "b").mkdir()
    assert isinstance(runner.move(tmp_path / "b", "the card is full"), Recorded)
    assert isinstance(runner.send(c.Finish("one")), Recorded)
    runner.close()
    found = read_log(runner.path)
    assert (found.state, runner.path.parent) == ("whole", tmp_path / "b")
    assert events(runner.path)[count] == Moved(was=was.name, reason="the card is full")


def test_a_clock_set_back_is_noted_before_the_entry(tmp_path: Path) -> None:
    first = begun(tmp_path)
    first.close()
    again = Runner.resume(first.path, clock(-60))
    again.close()
    assert isinstance(events(first.path)[-2], ClockNoted)
    assert again.state.clock_notes == 1
    assert again.state.set_back_s == UNTOLD_S  # the machine was off meanwhile: no clock tells how long


class SlowWall(GivenClock):
    """A wall clock that somebody set back while the steady clock ran on."""

    def mono(self) -> float:
        return 7200.0


def test_a_wall_clock_that_ran_on_by_less_than_the_steady_clock_is_noted(tmp_path: Path) -> None:
    first = begun(tmp_path)
    first.close()
    again = Runner.resume(first.path, SlowWall(BEGAN + timedelta(minutes=1)))
    again.close()
    assert again.state.clock_notes == 1
    assert again.state.away_s == pytest.approx(7199, abs=2)


class SetBack(GivenClock):
    """A wall clock that somebody holds still while the steady clock runs on."""

    held_s = 0.0

    def now(self) -> datetime:
        return self.glance()

    def glance(self) -> datetime:
        return super().glance() - timedelta(seconds=self.held_s)


SPOILS = step("bank", 'lasts = "30 min"', reading("v")) + step("load", 'needs = ["bank"]', reading("w"))


def with_a_proof_that_spoils(folder: Path) -> tuple[Runner, SetBack]:
    wall = SetBack(BEGAN)
    runner = Runner.start(procedure(SPOILS), c.Start("Test Tern", "A. B."), folder, wall)
    for command in (c.Take("v", "12"), c.Finish("bank")):
        assert isinstance(runner.send(command), Recorded)
    wall.pass_time(3600)
    wall.held_s = 3000
    return runner, wall


def test_a_clock_set_back_since_the_last_entry_ages_a_proof_before_the_next_one_is_decided(tmp_path: Path) -> None:
    runner, _ = with_a_proof_that_spoils(tmp_path)
    again = Refusal('"load" needs step 1, "bank", again: what was proved then no longer holds', "bank", ("bank",))
    assert runner.would(c.Take("w", "3")) == again
    assert runner.state.clock_notes == 0
    assert runner.send(c.Take("w", "3")) == again
    runner.close()
    assert [type(event) for event in events(runner.path)].count(ClockNoted) == 1


def test_the_time_away_is_what_passed_by_the_steady_clock_though_the_wall_clock_was_set_back(tmp_path: Path) -> None:
    runner, _ = with_a_proof_that_spoils(tmp_path)
    assert isinstance(runner.send(c.Return()), Recorded)
    runner.close()
    assert runner.state.away_s == pytest.approx(3600, abs=2)


def test_a_closed_log_is_opened_without_writing_anything(tmp_path: Path) -> None:
    runner = begun(tmp_path)
    for command in (c.Finish("one"), c.Finish("two"), c.Close()):
        assert isinstance(runner.send(command), Recorded)
    runner.close()
    before = runner.path.read_bytes()
    again = Runner.resume(runner.path, clock(600))
    assert again.send(c.Note("one", "too late")) == Refusal(
        "this job has ended; only a dated look can still be answered"
    )
    again.close()
    assert runner.path.read_bytes() == before


def test_what_would_come_of_a_command_records_nothing(tmp_path: Path) -> None:
    runner = begun(tmp_path)
    before = runner.path.read_bytes()
    runner.would(c.Finish("one"))
    runner.close()
    assert runner.path.read_bytes() == before


def test_a_job_that_cannot_begin_as_asked_makes_no_log(tmp_path: Path) -> None:
    with pytest.raises(LogRefused, match="say which boat or trailer this is"):
        Runner.start(JOB, c.Start(" ", "A"), tmp_path, clock())
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("text", ["a\udc80b", "bell \x07", "two\nlines", "nul \x00", "\u202eback"])
def test_strange_letters_in_a_note_are_recorded_or_refused_and_the_log_stays_whole(tmp_path: Path, text: str) -> None:
    runner = begun(tmp_path)
    assert isinstance(runner.send(c.Note("one", text)), Recorded | Refusal | Unrecorded)
    assert isinstance(runner.send(c.Finish("one")), Recorded)
    runner.close()
    assert read_log(runner.path).state == "whole"
