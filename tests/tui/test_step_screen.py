"""The step screen alone: what it shows at each size, which keys it takes, what it reports."""

import pytest

from tests.tui.screen_help import SIZES, OneScreen, screen_text, step, warning
from tui.screens.step import StepScreen


@pytest.mark.parametrize("size", SIZES)
async def test_a_plain_step_is_whole_at_every_size(size: tuple[int, int]) -> None:
    view = step(warnings=(warning(),))
    async with OneScreen(StepScreen(view)).run_test(size=size) as pilot:
        text = " ".join(screen_text(pilot.app).split())
        for part in (view.place, view.title, view.action):
            assert part in text
