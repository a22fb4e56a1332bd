"""Writes a file whole or not at all: beside its place, then moved there; and never over what is not ours."""

import os
from collections.abc import Iterable
from pathlib import Path
from secrets import token_hex

from engine.session.scan import read_plain_file


class NotPut(ValueError):
    """A file is not written, since something else stands in its place; the sentence says what would be right."""


def put(path: Path, parts: Iterable[str | bytes], ours: bytes) -> None:
    """Write a file. One that is there is replaced in one move, if it is empty or one of ours.

    Args:
        path: Where it goes.
        parts: What it holds, piece by piece; line ends are written as they are.
        ours: What a file of this kind, made by this program, begins with.

    Raises:
        NotPut: if something else is there.
        OSError: if it cannot be written; what was there stays.
    """
    demand_ours(path, ours)
    beside = path.with_name(f".tugtest-{token_hex(6)}.new")
    try:
        with beside.open("xb") as file:
            file.writelines(part.encode() if isinstance(part, str) else part for part in parts)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def demand_ours(path: Path, ours: bytes) -> None:
    """Refuse a place in which something stands that is not ours, before any work is done.

    Raises:
        NotPut: if so.
    """
    if not path.is_symlink() and not path.exists():
        return
    try:
        start = read_plain_file(path)[: len(ours)]
    except OSError:
        raise NotPut(f"{path} is there and cannot be replaced; name another file") from None
    if start not in (b"", ours):
        raise NotPut(f"{path} is there, and this program did not write it; name another file, or move it away")
