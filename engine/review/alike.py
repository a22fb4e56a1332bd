"""Likeness over a whole folder: cohort by cohort, and written into the lines."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from engine.review.index import Index
from engine.review.likeness import Alike, likeness
from engine.review.row import LogRow
from engine.review.values import Measured

MOST = 1500
"""Logs of one cohort up to which likeness is looked at without being asked for [count]; a project rule."""


def cohorts(rows: Sequence[LogRow]) -> Mapping[tuple[str, str], list[LogRow]]:
    """Return the logs that can be walked, by procedure and revision, the largest cohort first."""
    found: dict[tuple[str, str], list[LogRow]] = defaultdict(list)
    for row in rows:
        if row.procedure:
            found[row.procedure, row.revision].append(row)
    return dict(sorted(found.items(), key=lambda item: -len(item[1])))


def values_of(rows: Sequence[LogRow], index: Index) -> dict[str, tuple[Measured, ...]]:
    """Return the measured values of logs by name."""
    return {row.name: index.values(row.sha256) for row in rows}


def with_likeness(
    rows: Sequence[LogRow], index: Index, most: int = MOST
) -> tuple[tuple[LogRow, ...], tuple[Alike, ...]]:
    """Return the lines with the log that each is most like, and all pairs that are equal beyond chance.

    Two files with the same head are the same log. Cohorts of more than ``most`` logs are left out.
    """
    alike = [
        pair for cohort in cohorts(rows).values() if len(cohort) <= most for pair in likeness(values_of(cohort, index))
    ]
    nearest = _same_chain(rows)
    for pair in alike:
        nearest.setdefault(pair.one, pair.other)
        nearest.setdefault(pair.other, pair.one)
    return tuple(replace(row, likeness=nearest.get(row.name, "")) for row in rows), tuple(alike)


def _same_chain(rows: Sequence[LogRow]) -> dict[str, str]:
    """Return for each log with the same head as another the first such other."""
    by_head: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        if row.head:
            by_head[row.head].append(row.name)
    same = [names for names in by_head.values() if len(names) > 1]
    return {name: names[1] if name == names[0] else names[0] for names in same for name in names}
