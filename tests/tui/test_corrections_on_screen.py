"""Correcting a value on the screen: which, the right one, why; asked about only where something follows from it."""

from typing import Any

import pytest
from textual.pilot import Pilot

from engine.session.runner import Runner
from tests.tui.pressing import QuickApp, flat, on, opened, settled, typed
from tests.tui.walker import runner, walk
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen
from tui.screens.picking import PickScreen
from tui.screens.step import StepScreen


@pytest.fixture
def job() -> Runner:
    return runner()


async def correcting_the_breaker(pilot: Pilot[Any]) -> None:
    """Open the job and ask to correct the rating of the breaker."""
    await opened(pilot)
    await pilot.press("escape", "c")
    screen = await on(pilot, PickScreen)
    at = next(digit for digit, words in screen.answers() if words.startswith("Rating of the breaker you plan"))
    await pilot.press(at)
    await on(pilot, AskScreen)


async def test_a_correction_says_what_opens_again_before_it_happens(job: Runner) -> None:
    walk(job, "vapour")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await correcting_the_breaker(pilot)
        await typed(pilot, "50")
        await typed(pilot, "misread the label")
        await on(pilot, AgreeScreen)
        assert "The plan of the whole circuit" in flat(pilot)
        assert job.state.given["new_breaker"].taken.number == 60
        await pilot.press("g")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.given["new_breaker"].taken.number == 50


async def test_a_corrected_value_that_cannot_be_read_is_refused_before_the_reason_is_asked(job: Runner) -> None:
    walk(job, "vapour")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await correcting_the_breaker(pilot)
        assert "A, usually" in flat(pilot)
        await typed(pilot, "5O")
        assert "letter O" in flat(pilot)
        assert "Why is it corrected?" not in flat(pilot)


async def test_escape_from_a_correction_changes_nothing(job: Runner) -> None:
    walk(job, "vapour")
    before = job.count
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape", "c")
        await on(pilot, PickScreen)
        await pilot.press("escape")
        await on(pilot, StepScreen)
        assert job.count == before


async def test_a_correction_that_nothing_follows_from_is_not_asked_about(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await settled(pilot)
        await pilot.press("escape", "c")
        await on(pilot, PickScreen)
        await pilot.press("1")
        await on(pilot, AskScreen)
        await typed(pilot, "46")
        await typed(pilot, "misread the label")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.given["motor_current"].taken.number == 46
