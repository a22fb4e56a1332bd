"""Work done in a process of its own: its result comes back, a stop ends it at once, a death is told."""

import os
import time

import pytest

from engine.review.workers import WorkerLost, apart


def doubled(number: int) -> int:
    return 2 * number


def for_ever() -> None:
    time.sleep(3600)


def dead() -> None:
    os._exit(9)


def test_what_it_gives_comes_back() -> None:
    assert apart(doubled, 21) == 42


def test_a_stop_ends_it() -> None:
    with pytest.raises(WorkerLost):
        apart(for_ever, stop=lambda: True)


def test_a_death_is_told() -> None:
    with pytest.raises(WorkerLost):
        apart(dead)
