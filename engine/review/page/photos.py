"""The files of a log for its page: each with its digest; pictures that are as they were stand in the page itself."""

import base64
from dataclasses import dataclass
from pathlib import Path

from engine.session.attach import check_files, files_folder
from engine.session.state import State

MOST_BYTES = 8 * 1024 * 1024
"""Pictures that one page carries, all together [bytes]; a project rule. The rest are listed with their digests."""

_KINDS = {b"\x89PNG\r\n\x1a\n": "image/png", b"\xff\xd8\xff": "image/jpeg"}
"""How the pictures that a page may carry begin."""


@dataclass(frozen=True, slots=True)
class Photo:
    """One attached file: name, step, digest, how it stands now; ``picture`` is it as a data address, or empty."""

    name: str
    sha256: str
    size: int
    verdict: str
    picture: str = ""


def photos_of(log: Path, state: State) -> tuple[Photo, ...]:
    """Return the files of a log; pictures that are whole are carried while they fit."""
    room, found = MOST_BYTES, list[Photo]()
    for (name, sha256, size), check in zip(state.files, check_files(log, state), strict=True):
        picture = _picture(files_folder(log) / name) if check.verdict == "whole" and size <= room else ""
        room -= size if picture else 0
        found.append(Photo(name, sha256, size, check.verdict, picture))
    return tuple(found)


def _picture(path: Path) -> str:
    data = path.read_bytes()
    kind = next((kind for start, kind in _KINDS.items() if data.startswith(start)), "")
    return f"data:{kind};base64,{base64.b64encode(data).decode()}" if kind else ""
