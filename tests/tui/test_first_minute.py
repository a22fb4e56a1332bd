"""A newcomer from the first screen to the first step: counted keys, and the time they take.

Source: H50 of the project's rules for the screen, at most 60 s; times of the keystroke-level model (CACM 23(7) 1980).
"""

from pathlib import Path

from engine.procedure.keying import COLD_KEY_S, Effort
from engine.shipped import shipped
from tests.tui.pressing import QuickApp, opened, type_text, until
from tui.screens.asking import AskScreen
from tui.screens.home import HomeScreen
from tui.screens.picking import PickScreen
from tui.screens.step import StepScreen

MOST_S = 60.0
BOAT = "Grey Heron"


async def test_a_newcomer_is_at_the_first_step_in_a_minute(tmp_path: Path) -> None:
    number = [path.stem for path in shipped()].index("bow-receptacle") + 1
    app = QuickApp(folder=tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: isinstance(app.screen, HomeScreen))
        await pilot.press(str(number))
        await until(pilot, lambda: isinstance(app.screen, AskScreen))
        await type_text(pilot, BOAT)
        await pilot.press("enter", "enter")
        questions = 0
        while not isinstance(app.screen, StepScreen):
            await until(pilot, lambda: isinstance(app.screen, PickScreen | StepScreen))
            if isinstance(app.screen, PickScreen):
                asked = app.screen
                await pilot.press("1")
                questions += 1
                await until(pilot, lambda: app.screen is not asked)  # noqa: B023  (awaited at once)
        await opened(pilot)
        assert app.screen.view.number == 1
    assert questions == 1
    keys = 1 + len(BOAT) + 2 + questions
    assert Effort(keys=keys, thoughts=3 + questions, hands=1).seconds(COLD_KEY_S) <= MOST_S
