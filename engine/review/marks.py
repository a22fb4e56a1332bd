"""An instructor's marks and notes: a TOML file of their own beside the logs. A log is never touched."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomli_w

from engine.review.paper import BadPaper, NoPaper, read_paper
from engine.review.put import put
from engine.session.folder import MARKS

FILE = MARKS
"""Name of the file with marks and notes in a folder of logs."""

_FIRST_LINE = "# Marks and notes of a review. The logs themselves are never changed.\n"

MOST_NOTE = 2000
"""Longest note on a log [characters]; a project rule."""


@dataclass(frozen=True, slots=True)
class Mark:
    """What an instructor says on one log, known by its file's name and the head of its chain."""

    log: str
    head: str
    mark: float | None = None
    accepted: bool = False
    note: str = ""
    by: str = ""
    at: str = ""


def read_marks(folder: Path) -> dict[str, Mark]:
    """Return the marks in a folder by log; empty if there is no file.

    Raises:
        BadPaper: if the file cannot be read.
    """
    try:
        read = read_paper(folder / FILE)
    except NoPaper:
        return {}
    if read.get("schema", 1) != 1:
        raise BadPaper(f"{FILE}: schema: must be 1; another version is not written over")
    listed = read.get("mark", [])
    if not isinstance(listed, list):
        raise BadPaper(f"{FILE}: mark: must be a list of tables")
    return {mark.log: mark for mark in (_mark(n, item) for n, item in enumerate(listed, start=1))}


def write_marks(folder: Path, marks: list[Mark]) -> None:
    """Put marks into the folder's file; the others stay. The file is replaced in one move.

    Raises:
        BadPaper: if a note is too long, or the file that is there cannot be read; it is left as it is.
        OSError: if it cannot be written.
    """
    for mark in marks:
        if len(mark.note) > MOST_NOTE:
            raise BadPaper(f"{mark.log}: the note has {len(mark.note)} characters; at most {MOST_NOTE} are kept")
    standing = read_marks(folder) | {mark.log: mark for mark in marks}
    table = {"schema": 1, "mark": [_table(standing[log]) for log in sorted(standing)]}
    put(folder / FILE, [_FIRST_LINE, tomli_w.dumps(table)], b"")


def fits(mark: Mark, head: str) -> bool:
    """Return whether a mark was given to the log as it stands now."""
    return mark.head == head


def _table(mark: Mark) -> dict[str, Any]:
    table: dict[str, Any] = {"log": mark.log, "head": mark.head, "accepted": mark.accepted}
    if mark.mark is not None:
        table["mark"] = mark.mark
    return table | {"note": mark.note, "by": mark.by, "at": mark.at}


def _mark(number: int, item: object) -> Mark:
    if not isinstance(item, dict) or not isinstance(item.get("log"), str) or not isinstance(item.get("head"), str):
        raise BadPaper(f"{FILE}: mark[{number}]: must be a table with the texts log and head")
    for key, value in item.items():
        if not isinstance(value, _KINDS.get(key, ())) or (key == "mark" and not _is_mark(value)):
            raise BadPaper(f"{FILE}: mark[{number}].{key}: is not a key of a mark, or has a value of another kind")
    return Mark(**{**item, **({"mark": float(item["mark"])} if "mark" in item else {})})


def _is_mark(value: object) -> bool:
    """Return whether a value is a number of points: a yes or no, and what is no number, are none."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


_KINDS: Mapping[str, tuple[type, ...]] = {
    "log": (str,),
    "head": (str,),
    "mark": (int, float),
    "accepted": (bool,),
    "note": (str,),
    "by": (str,),
    "at": (str,),
}
