"""Pace: how long a job took, its breaks, and measured readings that came faster than an instrument can be read."""

from datetime import datetime

from engine.procedure.model import Known, Procedure
from engine.session.decide_people import AWAY_S
from engine.session.events import Closed, Returned, Stamped, Stopped, Taken

LEAST_S = 2.0
"""Least plausible time for one measured reading, set, read and typed [s]; a project rule. A note, never a verdict."""

CLOCKS_AGREE_S = 1.5
"""Wall and steady clock agree within this [s]: the wall clock stands in the log in whole seconds; a project rule."""


def fast_entries(procedure: Procedure, events: tuple[Stamped, ...]) -> tuple[str, ...]:
    """Return a note for each entry of measured readings that came faster than ``LEAST_S`` for each of them.

    Readings typed in one line stand in the log with one time; they share the time since the entry before.
    """
    notes, before = list[str](), events[:1]
    for together in _entries(events):
        measured = [i for i in together if isinstance(i.event, Taken) and _is_measured(procedure, i.event.entry)]
        took_s = _seconds_between(before[-1], together[0]) if before else LEAST_S
        if measured and 0 <= took_s < LEAST_S * len(measured):
            names = ", ".join(i.event.entry for i in measured if isinstance(i.event, Taken))
            notes.append(f"event {measured[0].n}: {names}: {took_s:.1f} s for {len(measured)}")
        before = together
    return tuple(notes)


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


def _entries(events: tuple[Stamped, ...]) -> list[tuple[Stamped, ...]]:
    grouped: list[list[Stamped]] = []
    for item in events[1:]:
        if grouped and (grouped[-1][0].at, grouped[-1][0].mono) == (item.at, item.mono):
            grouped[-1].append(item)
        else:
            grouped.append([item])
    return [tuple(group) for group in grouped]


def _seconds_between(one: Stamped, two: Stamped) -> float:
    """Return the time between two events [s]: the process's own seconds if they agree with the wall clock."""
    wall_s, own_s = (_at(two) - _at(one)).total_seconds(), two.mono - one.mono
    return own_s if abs(wall_s - own_s) <= CLOCKS_AGREE_S else wall_s


def _is_measured(procedure: Procedure, entry: str) -> bool:
    asked = procedure.entry_by_id.get(entry)
    return asked is not None and asked.known is Known.MEASURED and bool(asked.instrument)


def _at(item: Stamped) -> datetime:
    return datetime.fromisoformat(item.at)
