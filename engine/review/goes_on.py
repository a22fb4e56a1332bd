"""Logs of a folder that share a beginning: where one could not be written any more, its session goes on in another."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import permutations, takewhile
from pathlib import Path

from engine.review.row import LogRow
from engine.session.scan import Scan, read_log

MOST = 20
"""Logs with one beginning that are held against each other [count]; more than that are one exercise, copied."""


def with_goes_on(folder: Path, rows: Sequence[LogRow]) -> tuple[LogRow, ...]:
    """Return the lines with the name of the log in which the same session goes on, where there is one.

    Only logs with the same first bytes are read once more: their chains are followed to where they part.

    Args:
        folder: Where the logs are.
        rows: Their lines.
    """
    same: dict[str, list[LogRow]] = {}
    for row in rows:
        if row.root:
            same.setdefault(row.root, []).append(row)
    told = {name: later for some in same.values() if 1 < len(some) <= MOST for name, later in _later(folder, some)}
    return tuple(replace(row, goes_on=told[row.name]) if row.name in told else row for row in rows)


def _later(folder: Path, rows: list[LogRow]) -> Iterator[tuple[str, str]]:
    """Yield the name of each log that another goes on from, with the name of the longest such other."""
    found = {row.name: read_log(folder / row.name) for row in sorted(rows, key=lambda row: row.events)}
    for (name, one), (later, other) in permutations(found.items(), 2):
        if one.state in ("whole", "torn") and _goes_on(one, other):
            yield name, later


def _goes_on(one: Scan, other: Scan) -> bool:
    """Return whether ``other`` holds all of ``one`` and more, or parts from it by being moved.

    A log whose disk did not confirm the last entry may hold it all the same; the log that was moved does not.
    """
    shared = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one.heads, other.heads, strict=False)))
    if shared == len(other.heads):
        return False
    return shared == len(one.heads) or other.events[shared - 1]["event"] == "log_moved"
