"""Locking and syncing as POSIX systems do it."""

import contextlib
import errno
import importlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from engine.session.disk_any import AnyDisk

_NO_FOLDER_SYNC = {errno.EINVAL, errno.ENOTSUP, errno.EBADF}
"""What file systems answer that have no syncing of folders (some network folders)."""


class PosixDisk(AnyDisk):
    """``flock`` and ``fsync``; where the system knows a sync that reaches through the drive's own cache, that one.

    Args:
        fcntl: The module ``fcntl``, or a stand-in.
    """

    def __init__(self, fcntl: Any = None) -> None:  # noqa: ANN401 -- a module or its stand-in
        self._fcntl = fcntl or importlib.import_module("fcntl")

    def make_folder(self, folder: Path) -> None:
        """Make a folder and those above it, each noted on the disk in the one that holds it."""
        if folder.is_dir():
            return
        self.make_folder(folder.parent)
        folder.mkdir(exist_ok=True)
        self.sync_folder(folder.parent)

    def sync(self, handle: int) -> None:
        """Return when everything written is on the disk, not only in the drive's cache."""
        through_the_cache = getattr(self._fcntl, "F_FULLFSYNC", None)
        if through_the_cache is None:
            os.fsync(handle)
            return
        try:
            self._fcntl.fcntl(handle, through_the_cache)
        except OSError as error:
            if error.errno not in _NO_FOLDER_SYNC:
                raise
            os.fsync(handle)

    def settle(self, handle: int) -> None:
        """Sync what others left unsynced, and forget the copy in memory, so that reading comes from the disk.

        After a failed sync Linux keeps the unwritten page as if it were on the disk. Dropped, it shows what is there.
        """
        self.sync(handle)
        forget = getattr(os, "posix_fadvise", None)
        if forget is not None:
            with contextlib.suppress(OSError):
                forget(handle, 0, 0, os.POSIX_FADV_DONTNEED)

    def sync_folder(self, folder: Path) -> None:
        """Return when the folder's names are on the disk."""
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        try:
            _unless_unknown(os.fsync, handle)
        finally:
            os.close(handle)

    def lock(self, handle: int) -> bool:
        """Take the file for this process alone; False if another has it."""
        try:
            self._fcntl.flock(handle, self._fcntl.LOCK_EX | self._fcntl.LOCK_NB)
        except (BlockingIOError, PermissionError):
            return False
        return True

    def close(self, handle: int) -> None:
        """Let go of the file and of its lock."""
        os.close(handle)


def _unless_unknown(call: Callable[[int], None], handle: int) -> None:
    try:
        call(handle)
    except OSError as error:
        if error.errno not in _NO_FOLDER_SYNC:
            raise
