"""A disk that fails at each single call of a session: nothing recorded is lost, nothing is half there."""

import contextlib
import errno
import itertools

import pytest

from engine.session.journal import Journal, LogRefused, NotRecorded
from engine.session.scan import read_log
from tests.session.journal_fakes import (
    EVENTS,
    FAULTS,
    HEADER,
    FailingDisk,
    half_then,
    interrupted_by_key,
    logs_in,
    refused,
)

ENTRIES = tuple(
    [{"event": "note", "n": 10 * entry + part} for part in range(size)] for entry, size in enumerate((1, 3, 1, 2))
)
"""Entries of one and of several events; an entry is recorded as a whole or not at all."""


class Session:
    """A small job: begin, record, close, open again, record. A failed entry is tried again, else the log is moved."""

    def __init__(self, folder, disk):
        self.first, self.second, self.disk = folder / "first", folder / "second", disk
        self.recorded = []
        self.failed = 0

    def run(self):
        with Journal.create(self.first, "boat", HEADER, disk=self.disk) as journal:
            journal = self.record(journal, ENTRIES[:2])
        journal.close()
        with Journal.open(journal.path, disk=self.disk) as journal:
            journal = self.record(journal, ENTRIES[2:])
        journal.close()

    def record(self, journal, entries):
        for entry in entries:
            try:
                journal.append(entry)
            except NotRecorded:
                self.failed += 1
                journal = journal.move(self.second) if journal.broken else journal
                journal.append(entry)
            self.recorded += entry
        return journal


def how_many_calls(tmp_path):
    disk = FailingDisk()
    Session(tmp_path / "healthy", disk).run()
    return len(disk.calls)


@pytest.mark.parametrize("kind", FAULTS)
def test_no_failing_call_loses_what_was_recorded(tmp_path, kind):
    for number in range(how_many_calls(tmp_path)):
        session = Session(tmp_path / str(number), FailingDisk(number, FAULTS[kind]))
        with contextlib.suppress(LogRefused):
            session.run()
        found = [read_log(path).events for path in logs_in(session.first, session.second)]
        assert not session.recorded or session.recorded in [events[: len(session.recorded)] for events in found], number


@pytest.mark.parametrize("kind", FAULTS)
def test_no_failing_call_leaves_half_an_entry_or_a_damaged_log(tmp_path, kind):
    whole = [list(itertools.chain(*ENTRIES[:count])) for count in range(len(ENTRIES) + 1)]
    for number in range(how_many_calls(tmp_path)):
        session = Session(tmp_path / str(number), FailingDisk(number, FAULTS[kind]))
        with contextlib.suppress(LogRefused):
            session.run()
        for path in logs_in(session.first, session.second):
            found = read_log(path)
            assert found.state in ("whole", "torn"), number
            assert found.events in whole, number


@pytest.mark.parametrize("kind", FAULTS)
def test_after_a_failing_call_the_log_can_be_opened_and_written_again(tmp_path, kind):
    for number in range(how_many_calls(tmp_path)):
        session = Session(tmp_path / str(number), FailingDisk(number, FAULTS[kind]))
        with contextlib.suppress(LogRefused):
            session.run()
        for path in logs_in(session.first, session.second):
            before = read_log(path)
            if before.header is None:
                continue
            with Journal.open(path) as journal:
                journal.append(EVENTS)
            assert read_log(path).events == before.events + list(EVENTS), number


def test_control_c_at_any_call_loses_nothing(tmp_path):
    for number in range(how_many_calls(tmp_path)):
        session = Session(tmp_path / str(number), FailingDisk(number, interrupted_by_key))
        with pytest.raises(KeyboardInterrupt):
            session.run()
        logs = logs_in(session.first, session.second)
        found = read_log(logs[-1]) if logs else None
        assert not session.recorded or (found and found.events[: len(session.recorded)] == session.recorded), number


@pytest.fixture
def disk():
    return FailingDisk()


@pytest.fixture
def journal(tmp_path, disk):
    with Journal.create(tmp_path, "boat", HEADER, disk=disk) as made:
        yield made


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT, errno.ESTALE])
def test_a_failed_write_is_cut_back_and_said(journal, disk, number):
    before = journal.path.read_bytes()
    disk.fail_next("write", half_then(number))
    with pytest.raises(NotRecorded, match="nothing of it was left in the file") as caught:
        journal.append(EVENTS)
    assert caught.value.cut_back
    assert journal.path.read_bytes() == before


def test_after_a_failed_write_the_same_entry_can_be_tried_again(journal, disk):
    disk.fail_next("write", half_then(errno.ENOSPC))
    with pytest.raises(NotRecorded, match="no space left on device"):
        journal.append(EVENTS)
    journal.append(EVENTS)
    assert read_log(journal.path).events == list(EVENTS)


def test_a_write_that_cannot_be_cut_back_is_left_as_a_torn_tail(journal, disk, monkeypatch):
    disk.fail_next("write", half_then(errno.EIO))
    monkeypatch.setattr(disk._disk, "cut", lambda *_: (_ for _ in ()).throw(OSError(errno.EIO, "i/o")))
    with pytest.raises(NotRecorded, match="a half-written block is left at the end") as caught:
        journal.append(EVENTS)
    assert not caught.value.cut_back
    assert read_log(journal.path).state == "torn"
    with pytest.raises(NotRecorded, match="could not be cut off"):
        journal.append(EVENTS)


def test_after_a_failed_sync_the_file_is_never_written_again(journal, disk):
    disk.fail_next("sync", refused(errno.EIO))
    with pytest.raises(NotRecorded, match="the disk did not confirm the last write"):
        journal.append(EVENTS[:1])
    left, calls = journal.path.read_bytes(), len(disk.calls)
    with pytest.raises(NotRecorded, match="the disk did not confirm the last write"):
        journal.append(EVENTS)
    assert journal.path.read_bytes() == left
    assert len(disk.calls) == calls


def test_what_a_failed_sync_left_behind_is_not_taken_along(journal, disk, tmp_path):
    journal.append(EVENTS[:1])
    disk.fail_next("sync", refused(errno.EIO))
    with pytest.raises(NotRecorded):
        journal.append(EVENTS[1:2])
    with journal.move(tmp_path / "stick") as moved:
        moved.append(EVENTS[2:3])
        assert read_log(moved.path).events == [EVENTS[0], EVENTS[2]]


def test_a_sync_that_is_interrupted_is_asked_again(journal, disk):
    disk.fail_next("sync", refused(errno.EINTR))
    journal.append(EVENTS)
    assert disk.calls[-2:] == ["sync", "sync"]


def test_a_sync_that_is_always_interrupted_ends_the_journal(journal, disk, monkeypatch):
    monkeypatch.setattr(disk._disk, "sync", lambda *_: (_ for _ in ()).throw(InterruptedError()))
    with pytest.raises(NotRecorded, match="interrupted several times"):
        journal.append(EVENTS)
    assert journal.broken


def test_a_disk_that_takes_nothing_is_a_failed_write(journal, disk, monkeypatch):
    monkeypatch.setattr(disk._disk, "write", lambda *_: 0)
    with pytest.raises(NotRecorded, match="took only a part"):
        journal.append(EVENTS)


@pytest.mark.parametrize("call", ["write", "sync", "sync_folder"])
def test_a_log_that_could_not_be_begun_leaves_no_file_behind(tmp_path, call):
    disk = FailingDisk()
    disk.fail_next(call, half_then(errno.ENOSPC))
    with pytest.raises(LogRefused, match="no space left on device; choose another folder"):
        Journal.create(tmp_path, "boat", HEADER, disk=disk)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("call", ["create", "write", "sync", "sync_folder"])
def test_a_tail_that_cannot_be_set_aside_is_not_cut(journal, tmp_path, call):
    journal.close()
    with journal.path.open("ab") as file:
        file.write(b"[[event]]\nn = ")
    before = journal.path.read_bytes()
    disk = FailingDisk()
    disk.fail_next(call, refused(errno.ENOSPC))
    with pytest.raises(LogRefused, match="no space left"):
        Journal.open(journal.path, disk=disk)
    assert journal.path.read_bytes() == before


def test_a_folder_without_locking_takes_no_log(tmp_path):
    disk = FailingDisk()
    disk.fail_next("lock", refused(errno.ENOLCK))
    with pytest.raises(LogRefused, match="no locks available; choose another folder"):
        Journal.create(tmp_path, "boat", HEADER, disk=disk)
