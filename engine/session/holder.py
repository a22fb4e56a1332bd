"""The note beside a log that is being written, naming who writes it. The lock itself is on the log."""

import contextlib
import os
import re
import socket
from datetime import UTC, datetime
from pathlib import Path

from engine.session.disk import Disk

_MAX_NOTE = 400
"""Bytes of a note that are read at most: anybody can write one; a project rule."""


def leave_note(path: Path, disk: Disk) -> None:
    """Write the note for a log that this process has locked. A note that cannot be written is done without."""
    remove_note(path, disk)
    since = datetime.now(UTC).strftime("%Y-%m-%d %H:%M UTC")
    text = f"process {os.getpid()} on {socket.gethostname() or 'an unnamed machine'}, since {since}\n"
    with contextlib.suppress(OSError):
        handle = disk.create(_note(path))
        try:
            disk.write(handle, text.encode(errors="replace"))
        finally:
            disk.close(handle)


def read_note(path: Path) -> str:
    """Return who writes this log, in words; made harmless, since anybody can write a note."""
    try:
        with _note(path).open("rb") as file:
            text = file.read(_MAX_NOTE).decode(errors="replace")
    except OSError:
        return "another program"
    return re.sub(r"[^\w .:,-]+", " ", text).strip() or "another program"


def remove_note(path: Path, disk: Disk) -> None:
    """Take the note away."""
    with contextlib.suppress(OSError):
        disk.remove(_note(path))


def _note(path: Path) -> Path:
    return path.with_name(path.name + ".lock")
