"""The clock that a session is handed."""

import time
from datetime import UTC, datetime, timedelta, timezone

import pytest

from engine.session.clock import GivenClock, SystemClock

START = datetime(2025, 6, 1, 9, tzinfo=UTC)


def test_the_systems_clock_is_aware_and_in_utc():
    assert SystemClock().now().utcoffset() == timedelta(0)


def test_the_systems_seconds_never_go_back():
    clock = SystemClock()
    seconds = [clock.mono() for _ in range(100)]
    assert seconds == sorted(seconds)


@pytest.mark.skipif(not hasattr(time, "CLOCK_BOOTTIME"), reason="only Linux has this clock")
def test_the_systems_seconds_go_on_while_a_laptop_sleeps():
    assert abs(SystemClock().mono() - time.clock_gettime(time.CLOCK_BOOTTIME)) < 1


def test_a_given_clock_begins_at_its_start_and_goes_on_step_by_step():
    clock = GivenClock(START, 20)
    assert [clock.now() - START for _ in range(3)] == [timedelta(seconds=s) for s in (0, 20, 40)]


def test_looking_at_the_seconds_does_not_move_a_given_clock():
    clock = GivenClock(START, 20)
    clock.now()
    clock.now()
    assert (clock.mono(), clock.mono()) == (20.0, 20.0)


def test_time_passes_when_it_is_let_pass():
    clock = GivenClock(START)
    clock.pass_time(3600)
    assert (clock.now(), clock.mono()) == (START + timedelta(hours=1), 3600.0)


def test_a_given_start_in_another_zone_is_told_in_utc():
    clock = GivenClock(START.astimezone(timezone(timedelta(hours=-7))))
    assert clock.now().isoformat() == "2025-06-01T09:00:00+00:00"


def test_a_start_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="needs a time zone"):
        GivenClock(datetime(2025, 6, 1, 9))


def test_two_given_clocks_go_alike():
    first, second = GivenClock(START, 0.1), GivenClock(START, 0.1)
    assert [first.now() for _ in range(50)] == [second.now() for _ in range(50)]
