"""Locking and syncing on each system, with stand-ins for the system's own calls."""

import errno
import os
from pathlib import Path
from types import SimpleNamespace

import pytest

from engine.session import disk_posix
from engine.session.disk import for_this_system
from engine.session.disk_posix import PosixDisk
from engine.session.disk_windows import LOCKED_BYTE, WindowsDisk
from engine.session.journal import Journal, LogBusy
from engine.session.scan import MAX_BYTES, read_log
from tests.session.journal_fakes import EVENTS, HEADER


class FakeMsvcrt:
    """Locks of bytes as Windows keeps them: by file and place, forbidden to every other handle."""

    LK_UNLCK, LK_NBLCK = 0, 2

    def __init__(self):
        self.held = {}

    def locking(self, handle, mode, count):
        assert count == 1
        place = (os.fstat(handle).st_ino, os.lseek(handle, 0, os.SEEK_CUR))
        if mode == self.LK_NBLCK and self.held.setdefault(place, handle) != handle:
            raise OSError(errno.EACCES, "Permission denied")
        if mode == self.LK_UNLCK and self.held.pop(place, None) is None:
            raise OSError(errno.EACCES, "Permission denied")


@pytest.fixture
def windows():
    return WindowsDisk(FakeMsvcrt())


def test_this_system_gets_its_own_disk():
    assert type(for_this_system()) is (WindowsDisk if os.name == "nt" else PosixDisk)


def test_windows_lets_one_writer_in_and_the_next_after_it(tmp_path, windows):
    with Journal.create(tmp_path, "boat", HEADER, disk=windows) as journal:
        with pytest.raises(LogBusy):
            Journal.open(journal.path, disk=windows)
        journal.append(EVENTS)
    with Journal.open(journal.path, disk=windows) as again:
        assert again.count == len(EVENTS)


def test_windows_locks_a_byte_that_no_reader_asks_for(tmp_path):
    system = FakeMsvcrt()
    with Journal.create(tmp_path, "boat", HEADER, disk=WindowsDisk(system)) as journal:
        assert [place for _, place in system.held] == [LOCKED_BYTE]
        assert MAX_BYTES < LOCKED_BYTE < 2**31
        journal.append(EVENTS)
        assert read_log(journal.path).events == list(EVENTS)


def test_windows_frees_the_lock_before_it_closes_the_file(tmp_path):
    system = FakeMsvcrt()
    Journal.create(tmp_path, "boat", HEADER, disk=WindowsDisk(system)).close()
    assert system.held == {}


def test_windows_mends_a_torn_tail(tmp_path, windows):
    with Journal.create(tmp_path, "boat", HEADER, disk=windows) as journal:
        journal.append(EVENTS)
    with journal.path.open("ab") as file:
        file.write(b"[[event]]\n")
    with Journal.open(journal.path, disk=windows) as again:
        again.append(EVENTS)
    assert read_log(journal.path).events == [*EVENTS, *EVENTS]


def test_windows_says_another_failure_of_locking_as_such(tmp_path):
    def locking(*_):
        raise OSError(errno.EINVAL, "Invalid argument")

    disk = WindowsDisk(SimpleNamespace(locking=locking, LK_NBLCK=2, LK_UNLCK=0))
    handle = disk.create(tmp_path / "a")
    with pytest.raises(OSError, match="Invalid argument"):
        disk.lock(handle)
    disk.close(handle)


def test_windows_makes_folders(tmp_path, windows):
    windows.make_folder(tmp_path / "a" / "b")
    windows.make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()


def test_windows_syncs_the_file_before_it_is_read_again(tmp_path, windows, monkeypatch):
    synced = []
    monkeypatch.setattr(os, "fsync", synced.append)
    windows.settle(7)
    assert synced == [7]


def fake_fcntl(answer):
    return SimpleNamespace(F_FULLFSYNC=51, fcntl=answer)


def test_a_sync_through_the_drives_cache_is_used_where_there_is_one(monkeypatch):
    asked = []
    monkeypatch.setattr(os, "fsync", lambda handle: asked.append(("fsync", handle)))
    PosixDisk(fake_fcntl(lambda *arguments: asked.append(arguments))).sync(7)
    assert asked == [(7, 51)]


def test_a_drive_that_has_no_such_sync_gets_the_plain_one(monkeypatch):
    asked = []
    monkeypatch.setattr(os, "fsync", asked.append)

    def unknown(*_):
        raise OSError(errno.ENOTSUP, "not supported")

    PosixDisk(fake_fcntl(unknown)).sync(7)
    assert asked == [7]


def test_a_sync_through_the_cache_that_fails_is_a_failed_sync():
    def broken(*_):
        raise OSError(errno.EIO, "input/output error")

    with pytest.raises(OSError, match="input/output error"):
        PosixDisk(fake_fcntl(broken)).sync(7)


@pytest.mark.parametrize("number", [errno.EINVAL, errno.ENOTSUP])
def test_a_folder_that_cannot_be_synced_by_its_nature_is_let_be(tmp_path, monkeypatch, number):
    monkeypatch.setattr(disk_posix.os, "fsync", lambda _: (_ for _ in ()).throw(OSError(number, "no")))
    PosixDisk().sync_folder(tmp_path)


def test_a_folder_that_fails_to_sync_is_a_failure(tmp_path, monkeypatch):
    monkeypatch.setattr(disk_posix.os, "fsync", lambda _: (_ for _ in ()).throw(OSError(errno.EIO, "no")))
    with pytest.raises(OSError, match="no"):
        PosixDisk().sync_folder(tmp_path)


def test_each_new_folder_is_noted_in_the_one_above(tmp_path, monkeypatch):
    noted = []
    disk = PosixDisk()
    monkeypatch.setattr(disk, "sync_folder", noted.append)
    disk.make_folder(tmp_path / "a" / "b")
    assert noted == [tmp_path, tmp_path / "a"]


def test_a_new_file_is_never_one_that_exists(tmp_path):
    (tmp_path / "a").write_text("old")
    with pytest.raises(FileExistsError):
        PosixDisk().create(tmp_path / "a")


@pytest.mark.parametrize("kind", ["folder", "pipe", "link to a pipe", "device"])
def test_only_a_plain_file_is_opened(tmp_path, kind):
    path = tmp_path / "it"
    if kind == "folder":
        path.mkdir()
    elif kind == "device":
        path.symlink_to("/dev/zero")
    else:
        os.mkfifo(tmp_path / "pipe")
        path.symlink_to("pipe")
    with pytest.raises(OSError, match="folder, pipe or device"):
        PosixDisk().open(path)


def test_a_pipe_put_in_place_of_a_file_while_it_is_opened_is_let_go(tmp_path, monkeypatch):
    (tmp_path / "plain").write_bytes(b"")
    plain = (tmp_path / "plain").stat()
    os.mkfifo(tmp_path / "boat.toml")
    monkeypatch.setattr(Path, "stat", lambda *_, **__: plain)
    with pytest.raises(OSError, match="folder, pipe or device"):
        PosixDisk().open(tmp_path / "boat.toml")


def test_reading_stops_at_the_limit(tmp_path):
    (tmp_path / "a").write_bytes(b"0123456789")
    disk = PosixDisk()
    handle = disk.open(tmp_path / "a")
    assert disk.read(handle, 4) == b"0123"
    disk.close(handle)
