"""Likeness over a whole folder: cohort by cohort, and written into the lines."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from statistics import median

from engine.review.index import Index
from engine.review.likeness import Alike, likeness
from engine.review.row import Like, LogRow
from engine.review.values import Measured
from engine.review.workers import WorkerLost, apart

MOST = 1500
"""Logs of one cohort up to which likeness is looked at without being asked for [count]; a project rule."""

TOGETHER_S = 900.0
"""Who measures together types within this time of each other, in the middle [s]: 15 min; a project rule."""

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
    by_name = {row.name: row for row in rows}
    paired = {name for pair in alike for name in (pair.one, pair.other)}
    values = values_of([row for row in rows if row.name in paired], index)
    for pair in alike:
        one, other = by_name[pair.one], by_name[pair.other]
        together = _together(one, other, pair, values)
        nearest.setdefault(one.name, _like(one, other, pair, together=together))
        nearest.setdefault(other.name, _like(other, one, pair, together=together))
    told = ((row, nearest.get(row.name)) for row in rows)
    return tuple(replace(row, like=like) if like != row.like else row for row, like in told), tuple(alike)


def _like(row: LogRow, other: LogRow, pair: Alike, *, together: bool) -> Like:
    after_s = (_time(row.began) - _time(other.began)).total_seconds()
    return Like(other.name, len(pair.equal), pair.comparable, after_s, together)


def _together(one: LogRow, other: LogRow, pair: Alike, values: Mapping[str, Sequence[Measured]]) -> bool:
    """Return whether the two may have stood at one bench: the same boat, and most equal values within minutes."""
    if not one.asset or one.asset.casefold().strip() != other.asset.casefold().strip():
        return False
    first, second = ({v.entry: v.at for v in values[row.name]} for row in (one, other))
    apart = [abs((_time(first[e]) - _time(second[e])).total_seconds()) for e in pair.equal if first[e] and second[e]]
    return bool(apart) and median(apart) <= TOGETHER_S


def _time(at: str) -> datetime:
    """Return a time of a log; one that is none, which no session writes, stands for long ago."""
    try:
        told = datetime.fromisoformat(at)
    except ValueError:
        return _LONG_AGO
    return told if told.tzinfo else _LONG_AGO


_LONG_AGO = datetime(1, 1, 2, tzinfo=UTC)


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


def _same_chain(rows: Sequence[LogRow]) -> dict[str, Like]:
    """Return for each log with the same head as another the first such other."""
    by_head: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        if row.head:
            by_head[row.head].append(row.name)
    same = [names for names in by_head.values() if len(names) > 1]
    return {name: Like(names[name == names[0]], same=True) for names in same for name in names}
