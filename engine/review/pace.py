"""Pace: how long a job took, its breaks, and the time between its entries."""

from datetime import datetime

from engine.session.decide_people import AWAY_S
from engine.session.events import Closed, Returned, Stamped, Stopped

CLOCKS_AGREE_S = 1.5
"""Wall and steady clock agree within this [s]: the wall clock stands in the log in whole seconds; a project rule."""


def seconds_on_task(events: tuple[Stamped, ...]) -> float:
    """Return the time from the first event to the end of the job, the time away taken off [s].

    What comes after the end, such as the answer to a dated look, is another day's work.
    """
    if not events:
        return 0.0
    job = until_end(events)
    away_s = sum(item.event.away_s for item in job if isinstance(item.event, Returned))
    return max(0.0, (_at(job[-1]) - _at(job[0])).total_seconds() - away_s)


def until_end(events: tuple[Stamped, ...]) -> tuple[Stamped, ...]:
    """Return the events up to that which closed or stopped the job; all of them while it is open."""
    end = next((n for n, item in enumerate(events, start=1) if isinstance(item.event, Closed | Stopped)), len(events))
    return events[:end]


def breaks_s(events: tuple[Stamped, ...]) -> tuple[float, ...]:
    """Return the length of each break [s]: time away of ten minutes or more."""
    away = (item.event.away_s for item in events if isinstance(item.event, Returned))
    return tuple(length for length in away if length >= AWAY_S)


def entries_of(events: tuple[Stamped, ...]) -> list[tuple[Stamped, ...]]:
    """Return the events after the first, those of one entry together: they have one time."""
    grouped: list[list[Stamped]] = []
    for item in events[1:]:
        if grouped and (grouped[-1][0].at, grouped[-1][0].mono) == (item.at, item.mono):
            grouped[-1].append(item)
        else:
            grouped.append([item])
    return [tuple(group) for group in grouped]


def between_s(one: Stamped, two: Stamped) -> float:
    """Return the time between two events [s]: the process's own seconds if they agree with the wall clock."""
    wall_s, own_s = (_at(two) - _at(one)).total_seconds(), two.mono - one.mono
    return own_s if abs(wall_s - own_s) <= CLOCKS_AGREE_S else wall_s


def _at(item: Stamped) -> datetime:
    return datetime.fromisoformat(item.at)
