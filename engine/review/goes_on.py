"""Logs of a folder that share a beginning: where one could not be written any more, its session goes on in another."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from engine.review.row import LogRow
from engine.session.scan import read_log, short_head

MOST = 20
"""Logs with one beginning that are held against each other [count]; more than that are one exercise, copied."""


def with_goes_on(folder: Path, rows: Sequence[LogRow]) -> tuple[LogRow, ...]:
    """Return the lines with the name of the log in which the same session goes on, where there is one.

    Only logs with the same first bytes are read once more: their chains are followed to where the shorter one ends.

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
    """Yield the name of each log whose end lies within a longer one, with the name of the longest such log."""
    for longer in sorted(rows, key=lambda row: row.events):
        shorter = [row for row in rows if row.events < longer.events and row.chain in ("whole", "torn")]
        heads = read_log(folder / longer.name).heads if shorter else []
        for row in shorter:
            if len(heads) > row.events and short_head(heads[row.events]) == row.head:
                yield row.name, longer.name
