"""What the journal asks of a disk: one small interface, and the one that fits this system.

The journal never calls the system itself, so that a test can stand a failing disk in its place.
"""

import os
from pathlib import Path
from typing import Protocol

from engine.session.disk_posix import PosixDisk
from engine.session.disk_windows import WindowsDisk


class Disk(Protocol):
    """Files by their handle. Every call raises ``OSError`` when the disk refuses."""

    def make_folder(self, folder: Path) -> None:
        """Make a folder, and those above it, so that they outlast a power cut."""

    def create(self, path: Path) -> int:
        """Make a new file to write at its end; never opens one that exists (``FileExistsError``)."""

    def open(self, path: Path) -> int:
        """Open a plain file to read, and to write at its end."""

    def read(self, handle: int, limit: int) -> bytes:
        """Return all bytes from the start, up to ``limit`` [bytes]."""

    def settle(self, handle: int) -> None:
        """Sync what others left unsynced, and forget the copy in memory, so that reading comes from the disk."""

    def write(self, handle: int, data: bytes) -> int:
        """Write at the end, once; return how many bytes were taken."""

    def sync(self, handle: int) -> None:
        """Return when everything written is on the disk."""

    def sync_folder(self, folder: Path) -> None:
        """Return when the folder's names are on the disk."""

    def cut(self, handle: int, size: int) -> None:
        """Cut the file to ``size`` [bytes]."""

    def remove(self, path: Path) -> None:
        """Take a file away that this process made and nobody needs."""

    def standing(self, handle: int) -> os.stat_result:
        """Return what the system knows of the open file."""

    def standing_at(self, path: Path) -> os.stat_result:
        """Return what the system knows of the file that the name leads to now."""

    def lock(self, handle: int) -> bool:
        """Take the file for this process alone; False if another has it."""

    def close(self, handle: int) -> None:
        """Let go of the file and of its lock."""


def for_this_system() -> Disk:
    """Return the disk with this system's way of locking and syncing."""
    return WindowsDisk() if os.name == "nt" else PosixDisk()


DISK: Disk = for_this_system()
