"""The clock that a session is handed: the machine's own, or a given one for answers files, samples and tests."""

import sys
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Protocol

CLOCKS_DIFFER_S = 5.0
"""Wall and steady clock may come apart by this much between two events [s] before it is noted; a project rule."""


class Clock(Protocol):
    """What a session asks about time."""

    def now(self) -> datetime:
        """Return the wall clock, aware, in UTC."""

    def glance(self) -> datetime:
        """Return the wall clock for a look at the screen: a given clock does not move by it."""

    def mono(self) -> float:
        """Return seconds that only go forward and that run on while the machine sleeps [s].

        They start anew with the machine: a wall clock that is set back while it is off, to a time after the last entry,
        cannot be told.
        """


class SystemClock:
    """The machine's own clock."""

    def now(self) -> datetime:
        """Return the wall clock, aware, in UTC."""
        return datetime.now(UTC)

    def glance(self) -> datetime:
        """Return the wall clock, aware, in UTC."""
        return datetime.now(UTC)

    def mono(self) -> float:
        """Return seconds since some moment before [s]: they go on while a laptop sleeps, where the system offers it."""
        return _SECONDS()


@dataclass(slots=True)
class GivenClock:
    """A clock that stands at ``start`` and goes on by ``step_seconds`` at each look after the first.

    Example:
        >>> clock = GivenClock(datetime(2025, 6, 1, 9, tzinfo=UTC), step_seconds=20)
        >>> clock.now().time().isoformat(), clock.now().time().isoformat(), clock.mono()
        ('09:00:00', '09:00:20', 20.0)
    """

    start: datetime
    step_seconds: float = 0.0
    _passed_s: float = field(default=0.0, init=False)
    _looked_at: bool = field(default=False, init=False)

    def __post_init__(self) -> None:
        if self.start.tzinfo is None:
            raise ValueError("the start of a given clock needs a time zone, such as 2025-06-01T09:00:00Z")

    def now(self) -> datetime:
        """Return the given wall clock, in UTC, one step further than at the last look."""
        if self._looked_at:
            self._passed_s += self.step_seconds
        self._looked_at = True
        return self.start.astimezone(UTC) + timedelta(seconds=self._passed_s)

    def glance(self) -> datetime:
        """Return the given wall clock as it stood at the last look, in UTC."""
        return self.start.astimezone(UTC) + timedelta(seconds=self._passed_s)

    def mono(self) -> float:
        """Return the seconds since ``start`` [s]. Looking does not move the clock."""
        return self._passed_s

    def pass_time(self, seconds: float) -> None:
        """Let this much time go by [s]."""
        self._passed_s += seconds


def _seconds_with_sleep() -> float:
    return time.clock_gettime(_SLEEPING)


_SLEEPING: int = (
    getattr(time, "CLOCK_BOOTTIME", -1) if sys.platform != "darwin" else getattr(time, "CLOCK_MONOTONIC", -1)
)
_SECONDS = time.monotonic if _SLEEPING == -1 else _seconds_with_sleep
