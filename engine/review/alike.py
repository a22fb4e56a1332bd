"""Likeness over a whole folder: cohort by cohort, and written into the lines."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from engine.review.index import Index
from engine.review.likeness import Alike, likeness
from engine.review.row import LogRow
from engine.review.values import Measured
from engine.review.workers import WorkerLost, apart

MOST = 1500
"""Logs of one cohort up to which likeness is looked at without being asked for [count]; a project rule."""

WORTH = 400
"""From this many logs on, likeness is worth a process of its own, so that a screen stays quick; a project rule."""


def cohorts(rows: Sequence[LogRow]) -> Mapping[tuple[str, str], list[LogRow]]:
    """Return the logs that can be walked, by procedure and revision, the largest cohort first."""
    found: dict[tuple[str, str], list[LogRow]] = defaultdict(list)
    for row in rows:
        if row.procedure:
            found[row.procedure, row.revision].append(row)
    return dict(sorted(found.items(), key=lambda item: -len(item[1])))


def left_out(rows: Sequence[LogRow], most: int = MOST) -> tuple[str, ...]:
    """Return a sentence for each cohort that is too large for its likeness to be looked at unasked."""
    return tuple(
        f"{len(cohort)} logs of {name}, revision {revision}: likeness was not looked at; ask for it with --cohort"
        for (name, revision), cohort in cohorts(rows).items()
        if len(cohort) > most
    )


def values_of(rows: Sequence[LogRow], index: Index) -> dict[str, tuple[Measured, ...]]:
    """Return the measured values of logs by name."""
    return _values({row.name: row.sha256 for row in rows}, index)


def with_likeness(
    rows: Sequence[LogRow], index: Index, most: int = MOST, stop: Callable[[], bool] | None = None
) -> tuple[tuple[LogRow, ...], tuple[Alike, ...]]:
    """Return the lines with the log that each is most like, and all pairs that are equal beyond chance.

    Two files with the same head are the same log. Cohorts of more than ``most`` logs are left out. ``stop`` is asked
    meanwhile; True ends it, and no pair is named.
    """
    small = [cohort for cohort in cohorts(rows).values() if 1 < len(cohort) <= most]
    alike = _alike([{row.name: row.sha256 for row in cohort} for cohort in small], index, stop)
    nearest = _same_chain(rows)
    for pair in alike:
        nearest.setdefault(pair.one, pair.other)
        nearest.setdefault(pair.other, pair.one)
    told = ((row, nearest.get(row.name, "")) for row in rows)
    return tuple(replace(row, likeness=name) if name != row.likeness else row for row, name in told), tuple(alike)


def _alike(wanted: list[dict[str, str]], index: Index, stop: Callable[[], bool] | None) -> list[Alike]:
    """Return the pairs of some cohorts, each given as digests by name."""
    if index.path is not None and sum(map(len, wanted)) >= WORTH:
        try:
            return apart(alike_in, index.path, wanted, stop=stop)
        except WorkerLost:
            if stop is not None and stop():
                return []  # else it was killed, and the work is done here
    return [pair for cohort in wanted for pair in likeness(_values(cohort, index))]


def alike_in(path: Path, wanted: list[dict[str, str]]) -> list[Alike]:
    """Return the pairs of some cohorts from an index on the disk; runs in a process of its own."""
    with Index(path) as index:
        return [pair for cohort in wanted for pair in likeness(_values(cohort, index))]


def _values(digests: Mapping[str, str], index: Index) -> dict[str, tuple[Measured, ...]]:
    kept = index.values(digests.values())
    return {name: kept.get(digest, ()) for name, digest in digests.items()}


def _same_chain(rows: Sequence[LogRow]) -> dict[str, str]:
    """Return for each log with the same head as another the first such other."""
    by_head: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        if row.head:
            by_head[row.head].append(row.name)
    same = [names for names in by_head.values() if len(names) > 1]
    return {name: names[1] if name == names[0] else names[0] for names in same for name in names}
