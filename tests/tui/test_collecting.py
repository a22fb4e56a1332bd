"""Garbage is collected again once a job is open, whatever became of the opening."""

import gc

import pytest

from tests.tui.pressing import QuickApp, opened
from tests.tui.walker import runner
from tui.collecting import not_collecting


def test_it_is_off_inside_and_on_again_after_a_mistake() -> None:
    seen = []

    def opening() -> None:
        with not_collecting():
            seen.append(gc.isenabled())
            raise ValueError("planned")

    with pytest.raises(ValueError, match="planned"):
        opening()
    assert seen == [False]
    assert gc.isenabled()


def test_somebody_who_collects_by_hand_keeps_it_off() -> None:
    gc.disable()
    try:
        with not_collecting():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()


async def test_it_is_on_when_a_job_is_worked_on() -> None:
    async with QuickApp(runner()).run_test() as pilot:
        await opened(pilot)
        assert gc.isenabled()
