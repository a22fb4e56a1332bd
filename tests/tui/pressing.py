"""A person at the screen, by script: looks at what the step waits for and presses the keys for it."""

import asyncio
from typing import Any

from textual.pilot import Pilot

from engine.session.runner import Runner
from tests.tui.screen_help import screen_text
from tests.tui.walker import answer
from tui.app import TugtestApp
from tui.awaited import Awaited
from tui.screens.closing import ClosingScreen
from tui.screens.step import StepScreen

MOST_ACTS = 400
"""Acts after which a job that is still not done has gone in a circle; the main job takes about 210."""

KEY_NAMES = {" ": "space", ".": "full_stop", ",": "comma", "-": "minus", "+": "plus", ";": "semicolon", "/": "slash"}


class QuickApp(TugtestApp):
    """The app with a clock that runs a second at each look, so that no key is a double press."""

    _s = 0.0

    def seconds(self) -> float:
        self._s += 1.0
        return self._s


async def until(pilot: Pilot[Any], true: Any, tries: int = 200) -> None:
    """Wait until something is true of the app."""
    for _ in range(tries):
        if true():
            return
        await pilot.pause(0.01)
    raise AssertionError("it did not come to that")


async def opened(pilot: Pilot[Any]) -> None:
    """Wait for the first step."""
    await until(pilot, lambda: isinstance(pilot.app.screen, StepScreen | ClosingScreen))
    await pilot.pause()


async def type_text(pilot: Pilot[Any], text: str) -> None:
    await pilot.press(*(KEY_NAMES.get(sign, sign) for sign in text))


async def settled(pilot: Pilot[Any]) -> None:
    """Wait until the app has done with the last key."""
    await pilot.pause()
    screen = pilot.app.screen
    if isinstance(screen, StepScreen):
        await until(pilot, lambda: not screen.reported or pilot.app.screen is not screen)
    await asyncio.wait_for(pilot.app.workers.wait_for_complete(), 30)
    await pilot.pause()


async def press_to_the_end(pilot: Pilot[Any], job: Runner) -> None:
    """Press what every step waits for, and close the job."""
    await opened(pilot)
    for _ in range(MOST_ACTS):
        if isinstance(pilot.app.screen, ClosingScreen):
            break
        await do_one(pilot, job)
    else:
        raise AssertionError("the job does not come to its end")
    await pilot.press("g")
    await settled(pilot)


async def do_one(pilot: Pilot[Any], job: Runner) -> int:
    """Press what the step waits for, once; return how many keys that took."""
    screen = pilot.app.screen
    assert isinstance(screen, StepScreen)
    keys = await _press_for(pilot, job, screen)
    await settled(pilot)
    return keys


async def _press_for(pilot: Pilot[Any], job: Runner, screen: StepScreen) -> int:
    turned = 0
    while not screen.read_to_end:
        await pilot.press("enter")
        await pilot.pause()
        turned += 1
    match screen.awaited:
        case Awaited.TYPED:
            assert screen.asked
            text = answer(job, screen.asked.id)
            screen.entry.value = text
            await pilot.press("enter")
            return turned + len(text) + 1
        case Awaited.CHOICE:
            assert screen.asked
            wanted = answer(job, screen.asked.id)
            await pilot.press(str(screen.asked.choices.index(wanted) + 1))
        case Awaited.PARTS:
            await pilot.press(next(digit for digit, _ in screen.answers()))
        case Awaited.HOLD:
            await pilot.press("g")
        case Awaited.PLAIN:
            await pilot.press("enter")
        case other:
            raise AssertionError(f"{screen.view.id} waits for {other}: {screen.view.wants}")
    return turned + 1


def flat(pilot: Pilot[Any]) -> str:
    """Return what is on the screen in one line."""
    return " ".join(screen_text(pilot.app).split())


async def on(pilot: Pilot[Any], kind: type) -> Any:
    """Wait for a screen of a kind."""
    await until(pilot, lambda: isinstance(pilot.app.screen, kind))
    await pilot.pause()
    return pilot.app.screen


async def typed(pilot: Pilot[Any], text: str) -> None:
    """Type an answer and confirm it."""
    pilot.app.screen.entry.value = text
    await pilot.press("enter")
    await pilot.pause()
