"""Disks that fail on purpose, and a sample log, for the tests of the journal."""

import errno
import os
from collections.abc import Callable, Mapping
from pathlib import Path

from engine.session.block import encode_event, encode_header, root
from engine.session.disk_posix import PosixDisk

HEADER = {
    "program": "tugtest 0",
    "procedure": "[procedure]\ntitle = 'Inlet'\n\n[[step]]\nid = 'a'\n",
    "tables": ["wire 1"],
}
EVENTS = (
    {"event": "opened", "n": 1, "at": "2025-06-01T09:00:00Z", "mono": 0.0, "asset": "Sea Otter"},
    {"event": "reading", "n": 2, "mono": 20.5, "raw": "12,4 V", "number": 12.4, "over": False},
    {"event": "finding", "n": 3, "values": ["drop_v = 0.31", "length_m = 6"], "limits": [], "sentence": "Ω ≤ 3 %"},
    {"event": "note", "n": 4, "text": 'lid "on"\nand \\ tight'},
)
CALLS = ("make_folder", "create", "open", "read", "settle", "write", "sync", "sync_folder", "cut", "remove", "standing",
         "standing_at", "lock", "close")  # fmt: skip

Fault = Callable[[PosixDisk, str, tuple[object, ...]], object]


def sample(events=EVENTS, header: Mapping = HEADER) -> bytes:
    """Return the bytes of a whole log, put together block by block."""
    return b"".join(blocks(events, header))


def blocks(events=EVENTS, header: Mapping = HEADER) -> list[bytes]:
    parts = [encode_header(header)]
    head = root(parts[0])
    for event in events:
        block, head = encode_event(event, head)
        parts.append(block)
    return parts


class FailingDisk:
    """The real disk, with every call counted and the call of one number failing."""

    def __init__(self, fail_at: int = -1, fault: Fault | None = None) -> None:
        self.calls: list[str] = []
        self.fail_at = fail_at
        self.fault = fault
        self._disk = PosixDisk()

    def __getattr__(self, name: str):
        if name not in CALLS:
            raise AttributeError(name)
        real = getattr(self._disk, name)

        def call(*arguments):
            self.calls.append(name)
            if len(self.calls) - 1 == self.fail_at and self.fault:
                return self.fault(self._disk, name, arguments)
            return real(*arguments)

        return call

    def fail_next(self, name: str, fault: Fault) -> None:
        """Let the next call of this name fail, once."""

        def once(disk, called, arguments):
            if called == name:
                return fault(disk, called, arguments)
            self.fail_at += 1
            return getattr(disk, called)(*arguments)

        self.fault, self.fail_at = once, len(self.calls)


def refused(number: int) -> Fault:
    """A call that does nothing and fails with this error."""

    def fault(disk, name, arguments):
        if name == "close":
            disk.close(*arguments)
        raise OSError(number, os.strerror(number))

    return fault


def half_then(number: int) -> Fault:
    """A write that takes half of the bytes and then fails; other calls are done and then fail."""

    def fault(disk, name, arguments):
        if name == "write":
            disk.write(arguments[0], arguments[1][: len(arguments[1]) // 2])
        elif name == "create":
            disk.close(disk.create(*arguments))
        elif name == "close":
            disk.close(*arguments)
        raise OSError(number, os.strerror(number))

    return fault


def short(disk, name, arguments):
    """A write that takes only a part of the bytes, and says so; other calls are as usual."""
    if name == "write":
        return disk.write(arguments[0], arguments[1][: max(1, len(arguments[1]) // 3)])
    return getattr(disk, name)(*arguments)


def interrupted_by_key(disk, name, arguments):
    """Control-C at the worst moment: half of a write is done; other calls are not."""
    if name == "write":
        disk.write(arguments[0], arguments[1][: len(arguments[1]) // 2])
    if name == "close":
        disk.close(*arguments)
    raise KeyboardInterrupt


FAULTS: Mapping[str, Fault] = {
    "disk full": refused(errno.ENOSPC),
    "disk full half way": half_then(errno.ENOSPC),
    "input/output error": refused(errno.EIO),
    "input/output error half way": half_then(errno.EIO),
    "read-only": refused(errno.EROFS),
    "stale network folder": refused(errno.ESTALE),
    "interrupted": refused(errno.EINTR),
    "short write": short,
}


def logs_in(*folders: Path) -> list[Path]:
    return sorted(path for folder in folders if folder.is_dir() for path in folder.glob("*.toml"))
