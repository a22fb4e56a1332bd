"""The one file that a student hands in: the log, its files, and a text with the chain's head, in a zip."""

import zipfile
from pathlib import Path

from engine.session.apply import fold
from engine.session.attach import check_files, files_folder
from engine.session.codec import NotAnEvent, from_flat
from engine.session.scan import read_plain_file, says, scan, short_head

STAMP = (1980, 1, 1, 0, 0, 0)
"""One date for all members, the earliest a zip can hold, so that the same session gives the same bytes."""


UNIX, READABLE = 3, 0o100644
"""System and rights as a zip says them; the same for all, so that the bytes do not depend on the machine."""


class NotPacked(ValueError):
    """A session cannot be packed; the sentence says why."""


def pack(log: Path, target: Path | None = None) -> Path:
    """Pack a session into ``target`` (beside the log, ending in .zip, if left out) and return it.

    Raises:
        NotPacked: if the log is not whole or says what no version knows, one of its files is missing or changed, or
            the target exists.
    """
    data = _bytes(log)
    found = scan(data)
    if found.state != "whole":
        raise NotPacked(f"{log.name}: {found.sentence}; only a whole log is packed")
    try:
        state = fold(from_flat(event) for event in found.events)
    except NotAnEvent as unknown:
        raise NotPacked(f"{log.name}: {unknown}; only a log that this version reads is packed") from unknown
    wrong = [check for check in check_files(log, state) if check.verdict != "whole"]
    if wrong:
        raise NotPacked(f"{wrong[0].name} is {wrong[0].verdict}; put it back into {files_folder(log).name} first")
    target = target or log.with_suffix(".zip")
    members = [(log.name, data)]
    members += [(f"{log.stem}/{name}", (files_folder(log) / name).read_bytes()) for name, _, _ in state.files]
    said = f"{log.name}\n{len(found.events)} events\nhead {short_head(found.head)}\n{found.head}\n"
    try:
        with zipfile.ZipFile(target, "x", zipfile.ZIP_DEFLATED) as packed:
            for name, data in [("head.txt", said.encode()), *members]:
                packed.writestr(_member(name), data, zipfile.ZIP_DEFLATED)
    except FileExistsError:
        raise NotPacked(f"{target.name} is there already; move it away first") from None
    except OSError as problem:
        target.unlink(missing_ok=True)
        raise NotPacked(f"{target.name} cannot be written: {says(problem)}") from problem
    return target


def _bytes(log: Path) -> bytes:
    try:
        return read_plain_file(log)
    except OSError as problem:
        raise NotPacked(f"{log.name} cannot be read: {says(problem)}") from problem


def _member(name: str) -> zipfile.ZipInfo:
    """Return a member that is told the same on every system."""
    member = zipfile.ZipInfo(name, STAMP)
    member.create_system, member.external_attr = UNIX, READABLE << 16
    return member
