"""Work done in a process of its own: its result comes back, a stop ends it at once, a death is told."""

import os
import subprocess
import sys
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


WITH_A_SCREEN = """
import sys
from engine.review.workers import apart

class Screens:
    def fileno(self):
        return -1
    def write(self, text):
        pass
    def flush(self):
        pass

sys.stderr = Screens()
print(apart(len, "four"))
"""


def test_workers_start_while_a_screen_has_taken_standard_error() -> None:
    done = subprocess.run([sys.executable, "-c", WITH_A_SCREEN], capture_output=True, text=True, timeout=60)
    assert done.stdout == "4\n"
