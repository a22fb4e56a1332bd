"""What reads and writes files the same way on every system; locking and syncing are added by each."""

import errno
import os
import stat
from pathlib import Path

_COMMON = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_NOINHERIT", 0)
_APPEND = os.O_RDWR | os.O_APPEND | _COMMON
_CHUNK = 1024 * 1024


class AnyDisk:
    """The calls that POSIX and Windows share."""

    def create(self, path: Path) -> int:
        """Make a new file to write at its end; never opens one that exists."""
        return os.open(path, _APPEND | os.O_CREAT | os.O_EXCL, 0o644)

    def open(self, path: Path) -> int:
        """Open a plain file; a pipe or device is not even opened, since opening may already do something."""
        demand_plain(path.stat())
        handle = os.open(path, _APPEND | getattr(os, "O_NONBLOCK", 0))
        try:
            demand_plain(os.fstat(handle))
        except BaseException:
            os.close(handle)
            raise
        return handle

    def read(self, handle: int, limit: int) -> bytes:
        """Return all bytes from the start, up to ``limit`` [bytes]."""
        os.lseek(handle, 0, os.SEEK_SET)
        parts: list[bytes] = []
        while limit > 0 and (part := os.read(handle, min(limit, _CHUNK))):
            parts.append(part)
            limit -= len(part)
        return b"".join(parts)

    def write(self, handle: int, data: bytes) -> int:
        """Write at the end, once; return how many bytes were taken."""
        return os.write(handle, data)

    def cut(self, handle: int, size: int) -> None:
        """Cut the file to ``size`` [bytes]."""
        os.ftruncate(handle, size)

    def remove(self, path: Path) -> None:
        """Take a file away that this process made and nobody needs."""
        path.unlink()

    def standing(self, handle: int) -> os.stat_result:
        """Return what the system knows of the open file."""
        return os.fstat(handle)

    def standing_at(self, path: Path) -> os.stat_result:
        """Return what the system knows of the file that the name leads to now."""
        return path.stat()


def demand_plain(status: os.stat_result) -> None:
    """Raise ``OSError`` unless it is a plain file."""
    if not stat.S_ISREG(status.st_mode):
        raise OSError(errno.EINVAL, "it is a folder, pipe or device, not a file")
