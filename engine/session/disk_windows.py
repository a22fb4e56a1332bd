"""Locking and syncing as Windows does it."""

import contextlib
import errno
import importlib
import os
from pathlib import Path
from typing import Any

from engine.session.disk_any import AnyDisk

LOCKED_BYTE = 0x7FFF_FFFE
"""Windows forbids others to read a locked byte: the one that is locked lies far past the end of the longest log."""


class WindowsDisk(AnyDisk):
    """``msvcrt.locking`` on one far byte; ``os.fsync``, which has Windows flush file and drive.

    Args:
        msvcrt: The module ``msvcrt``, or a stand-in.
    """

    def __init__(self, msvcrt: Any = None) -> None:  # noqa: ANN401 -- a module or its stand-in
        self._given = msvcrt

    def make_folder(self, folder: Path) -> None:
        """Make a folder and those above it. Windows keeps the names itself."""
        folder.mkdir(parents=True, exist_ok=True)

    def sync(self, handle: int) -> None:
        """Return when everything written is on the disk."""
        os.fsync(handle)

    def settle(self, handle: int) -> None:
        """Sync what others left unsynced."""
        self.sync(handle)

    def sync_folder(self, folder: Path) -> None:
        """Do nothing: Windows has no syncing of folders, its file system keeps a journal of names."""

    def lock(self, handle: int) -> bool:
        """Take the file for this process alone; False if another has it."""
        os.lseek(handle, LOCKED_BYTE, os.SEEK_SET)
        try:
            self._msvcrt.locking(handle, self._msvcrt.LK_NBLCK, 1)
        except OSError as error:
            if error.errno in (errno.EACCES, errno.EDEADLK):
                return False
            raise
        return True

    def close(self, handle: int) -> None:
        """Let go of the lock, then of the file: Windows may free a lock late if it is left to closing."""
        with contextlib.suppress(OSError):
            os.lseek(handle, LOCKED_BYTE, os.SEEK_SET)
            self._msvcrt.locking(handle, self._msvcrt.LK_UNLCK, 1)
        os.close(handle)

    @property
    def _msvcrt(self) -> Any:  # noqa: ANN401 -- a module or its stand-in
        return self._given or importlib.import_module("msvcrt")
