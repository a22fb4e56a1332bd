"""A power cut at any moment, simulated: what was synced is on the disk, what was not may be cut, zeroed or missing."""

import contextlib
from dataclasses import dataclass

import pytest

from engine.session.journal import Journal
from engine.session.scan import scan
from tests.session.journal_fakes import EVENTS, HEADER, FailingDisk, logs_in, sample

BYTES_NEAR_AN_END = 90


@dataclass
class Moment:
    """The disk between two calls: what the system says is in the file, and what has been synced of it."""

    recorded: int
    now: bytes
    synced: bytes
    named: bool

    def survivors(self):
        """Yield what may be found after the power comes back."""
        if not self.named:
            return
        yield self.synced
        if not self.now.startswith(self.synced):
            yield self.now
            return
        fresh = self.now[len(self.synced) :]
        for taken in range(len(fresh) + 1):
            yield self.synced + fresh[:taken]
            yield self.synced + fresh[:taken] + bytes(len(fresh) - taken)
        yield self.synced + fresh + bytes(4096 - len(self.now) % 4096)


class WatchedDisk(FailingDisk):
    """The real disk, with its state noted after each call."""

    def __init__(self, folder):
        super().__init__()
        self.folder, self.moments, self.recorded = folder, [], 0
        self.synced, self.named = b"", False

    def __getattr__(self, name):
        real = super().__getattr__(name)

        def call(*arguments):
            result = real(*arguments)
            logs = logs_in(self.folder)
            now = logs[0].read_bytes() if logs else b""
            if (
                name in ("sync", "settle")
                and logs
                and self._disk.standing(arguments[0]).st_ino == logs[0].stat().st_ino
            ):
                self.synced = now
            self.named = self.named or name == "sync_folder"
            self.moments.append(Moment(self.recorded, now, self.synced, self.named))
            return result

        return call


@pytest.fixture
def moments(tmp_path):
    disk = WatchedDisk(tmp_path)
    with Journal.create(tmp_path, "boat", HEADER, disk=disk) as journal:
        for size in (1, 3):
            journal.append(EVENTS[:size])
            disk.recorded += size
    with (tmp_path / "boat.toml").open("ab") as file:
        file.write(b"[[event]]\nn = ")
    with Journal.open(journal.path, disk=disk) as journal:
        journal.append(EVENTS[:1])
        disk.recorded += 1
    assert len(disk.moments) > 20
    return disk.moments


def test_nothing_recorded_is_lost_by_a_power_cut(moments):
    wanted = [EVENTS[0], *EVENTS[:3], EVENTS[0]]
    for number, moment in enumerate(moments):
        for survivor in moment.survivors():
            assert scan(survivor).events[: moment.recorded] == wanted[: moment.recorded], number
        assert moment.named or not moment.recorded


def test_a_power_cut_never_leaves_a_log_that_is_called_altered(moments):
    assert {scan(survivor).state for moment in moments for survivor in moment.survivors()} == {"whole", "torn"}


def test_a_power_cut_never_leaves_half_an_entry(moments):
    counts = {len(scan(survivor).events) for moment in moments for survivor in moment.survivors()}
    assert counts == {0, 1, 4, 5}


def test_a_torn_tail_is_on_the_disk_beside_the_log_before_it_is_cut(tmp_path):
    (tmp_path / "boat.toml").write_bytes(sample() + b"[[event]]\n")
    disk = FailingDisk()
    with Journal.open(tmp_path / "boat.toml", disk=disk):
        calls = disk.calls[disk.calls.index("create") :]
    assert calls[:6] == ["create", "write", "sync", "close", "sync_folder", "cut"]


@pytest.mark.parametrize("zeros", [0, 1, 4096 * 3])
def test_opening_after_a_power_cut_keeps_every_full_block(tmp_path, zeros):
    data = sample()
    near = [end for end in range(len(data)) if len(data) - end < BYTES_NEAR_AN_END or end % 37 == 0]
    for end in near:
        path = tmp_path / f"{end}.toml"
        path.write_bytes(data[:end] + bytes(zeros))
        before = scan(path.read_bytes())
        if before.header is None:
            continue
        with Journal.open(path) as journal:
            journal.append(EVENTS[:1])
        after = scan(path.read_bytes())
        assert (after.state, after.events) == ("whole", [*before.events, EVENTS[0]]), end
        with contextlib.suppress(FileNotFoundError):
            assert data[:end] + bytes(zeros) == before_bytes(data, before, tmp_path / f"{end}.torn"), end


def before_bytes(data, before, aside):
    """What stood in the file, put together again from what was kept and what was set aside."""
    return data[: before.good_bytes] + aside.read_bytes()
