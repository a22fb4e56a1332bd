"""The state of the work on the screens: STOP, a gap, a hand-over, a remedy's way, other jobs, a fail that stands."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.pilot import Pilot

from engine.procedure.model import Procedure
from engine.session.clock import GivenClock
from engine.session.commands import Finish, Start, Take
from engine.session.outcome import Recorded
from engine.session.runner import Runner
from tests.plain.works import spare, wired
from tests.tui.pressing import QuickApp, flat, on, opened, settled, type_text, typed
from tests.tui.screen_help import screen_text
from tests.tui.walker import runner, walk
from tui.app import TugtestApp
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen
from tui.screens.closing import ClosingScreen
from tui.screens.coming_back import ReturnScreen
from tui.screens.halt import HaltScreen
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen
from tui.screens.step import StepScreen

SIZES = pytest.mark.parametrize("size", [(80, 24), (120, 40), (40, 12)], ids=lambda size: f"{size[0]}x{size[1]}")


def begun(work: Procedure, folder: Path) -> Runner:
    return Runner.start(work, Start("Test Tern", "A. Tester"), folder, GivenClock(datetime(2026, 5, 2, 9, tzinfo=UTC)))


def to_join(folder: Path) -> Runner:
    """Return a job that stands before the step with hands on the wire."""
    job = begun(wired(), folder)
    for command in (Finish("lift"), Take("volts", "0.00"), Finish("dead")):
        assert isinstance(job.send(command), Recorded)
    return job


def to_test(folder: Path) -> Runner:
    """Return a job that stands before its last test, everything fed."""
    job = to_join(folder)
    for step in ("join", "power"):
        assert isinstance(job.send(Finish(step)), Recorded)
    return job


async def press(pilot: Pilot[TugtestApp], *keys: str) -> str:
    """Press keys one after another, wait for what they do, and return what is on the screen then, in one line."""
    for key in keys:
        await pilot.press(key)
        await settled_anywhere(pilot)
    return flat(pilot)


async def settled_anywhere(pilot: Pilot[TugtestApp]) -> None:
    """Let the app do what a key asked for, also where another screen waits for the next one."""
    for _ in range(8):
        await pilot.pause(0.01)


async def whole(pilot: Pilot[TugtestApp]) -> str:
    """Return the text of all pages of the screen, in one line."""
    screen = pilot.app.screen
    seen = flat(pilot)
    while screen.page + 1 < screen.page_count:
        seen += " " + await press(pilot, "pagedown")
    return seen


@SIZES
async def test_a_live_reading_is_a_stop_while_it_is_typed_and_the_whole_screen_once_it_is_taken(
    size: tuple[int, int],
) -> None:
    job = runner(demo=False)
    walk(job, "prove-dead")
    async with QuickApp(job).run_test(size=size) as pilot:
        await opened(pilot)
        await type_text(pilot, "11.9")
        await pilot.pause()
        assert "STOP Hands off. Something still feeds it" in flat(pilot)
        await pilot.press("enter")
        await on(pilot, HaltScreen)
        said = await whole(pilot)
        assert screen_text(pilot.app).splitlines()[0].strip(" #") == "STOP"
        assert "reads 11.9 V: live, over 1 V" in said
        assert "1 Hands off. 2 Something still feeds it" in said
        assert "then measure every point again." in said
        await press(pilot, "enter", "escape", "space")
        assert isinstance(pilot.app.screen, HaltScreen)
        assert job.state.halted
        await pilot.press("a")
        await on(pilot, StepScreen)
        assert job.state.halted is None
        assert "mend" in flat(pilot) or size[0] < 80


@SIZES
async def test_after_a_gap_nothing_but_the_question_stands_on_the_step(size: tuple[int, int], tmp_path: Path) -> None:
    job = to_join(tmp_path)
    async with QuickApp(job).run_test(size=size) as pilot:
        await opened(pilot)
        assert "It bites." in flat(pilot)
        job.clock.pass_time(1800)  # type: ignore[attr-defined]
        said = await press(pilot, "enter")
        assert "once more" in said
        assert "It bites." not in said
        assert "measure the wire once more where hands go: nothing was entered for 30 min" in said
        await type_text(pilot, "12.4")
        await pilot.pause()
        assert "STOP Hands off. Something feeds it" in flat(pilot)
        await pilot.press("ctrl+u")
        await typed(pilot, "0.02")
        await settled(pilot)
        assert "It bites." in flat(pilot)
        assert not job.state.doubted


async def test_a_value_that_was_typed_before_a_gap_is_no_answer_to_its_question(tmp_path: Path) -> None:
    job = to_join(tmp_path)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        job.clock.pass_time(1800)  # type: ignore[attr-defined]
        await press(pilot, "enter")
        assert pilot.app.screen.entry.value == ""
        await typed(pilot, "left")
        await settled(pilot)
        assert 'Needs step 2, "dead", first: hands go on the wire, not proved dead.' in flat(pilot)


@SIZES
async def test_a_remedy_shows_its_whole_way_before_it_begins(size: tuple[int, int]) -> None:
    job = runner(demo=False)
    walk(job, "polarity")
    async with QuickApp(job).run_test(size=size) as pilot:
        await opened(pilot)
        await typed(pilot, "-25.4")
        await on(pilot, HaltScreen)
        await press(pilot, "pagedown", "a")
        await on(pilot, StepScreen)
        await press(pilot, "pagedown", "r")
        await on(pilot, PickScreen)
        remedies = await whole(pilot)
        assert "1 Change the two wires over at the receptacle (" in remedies
        assert 'nothing is opened, only "Polarity" again (1 step)' in remedies
        await press(pilot, "1")
        screen = await on(pilot, AgreeScreen)
        way = await whole(pilot)
        for words in ("makes safe", "proves dead", "hands on", "feeds", "Negative to", "Prove it dead"):
            assert words in way
        assert way.index("Bank negative off") < way.index("Prove it dead") < way.index("Negative to")
        assert "polarity" in job.state.findings or not job.state.halted
        assert job.state.done.keys() >= {"sources-off"}
        assert screen.page == screen.page_count - 1
        await pilot.press("g")
        await on(pilot, StepScreen)
        assert pilot.app.screen.view.id == "sources-off"


async def test_a_long_way_is_read_to_its_end_before_it_begins() -> None:
    job = runner(demo=False)
    walk(job, "polarity")
    async with QuickApp(job).run_test(size=(40, 12)) as pilot:
        await opened(pilot)
        await typed(pilot, "-25.4")
        await on(pilot, HaltScreen)
        await press(pilot, "pagedown", "a")
        await on(pilot, StepScreen)
        await press(pilot, "pagedown", "r", "1")
        screen = await on(pilot, AgreeScreen)
        for page in range(1, screen.page_count):
            await press(pilot, "g")
            assert screen.page == page
        assert "sources-off" in job.state.done
        await press(pilot, "g")
        assert "sources-off" not in job.state.done


async def test_a_hand_over_shows_what_is_proved_again_and_the_step_says_what_ended_it(tmp_path: Path) -> None:
    job = to_join(tmp_path)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await press(pilot, "o")
        await on(pilot, AskScreen)
        await typed(pilot, "B. Second")
        await on(pilot, AgreeScreen)
        assert "Proved dead again, before hands go on (1 step) 2 dead proves dead" in flat(pilot)
        await pilot.press("g")
        await on(pilot, StepScreen)
        assert job.state.person == "B. Second"
        assert "and its dead proof ended by the hand-over." in flat(pilot)
        said = await press(pilot, "t")
        assert "This was done, and holds no longer: ended by the hand-over. Do it again." in said
        assert screen_text(pilot.app).splitlines()[-1].split()[:2] == ["r", "redo"]


async def test_what_another_job_holds_dead_is_said_on_coming_back_and_asked_before_it_is_fed(tmp_path: Path) -> None:
    to_join(tmp_path).close()
    other = to_join(tmp_path)
    assert isinstance(other.send(Finish("join")), Recorded)
    other.close()
    clock = GivenClock(datetime(2026, 5, 2, 10, tzinfo=UTC))
    job = Runner.resume(other.path, clock)
    held = '"A small job" of A. Tester is open on this boat and holds dead: the wire'
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await on(pilot, ReturnScreen)
        assert 'Also open on this boat "A small job" of A. Tester holds dead: the wire' in flat(pilot)
        await pilot.press("g")
        await on(pilot, StepScreen)
        assert held in flat(pilot)
        await press(pilot, "enter")
        await on(pilot, PickScreen)
        assert f"{held}. Is anybody at it?" in flat(pilot)
        await pilot.press("2")
        await on(pilot, StepScreen)
        assert "Left as it is: nothing is fed while somebody has hands on it." in flat(pilot)
        await press(pilot, "enter")
        await on(pilot, PickScreen)
        await pilot.press("1")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert pilot.app.screen.view.id == "test"


@SIZES
async def test_a_fail_that_stands_is_named_before_and_after_closing(size: tuple[int, int], tmp_path: Path) -> None:
    job = begun(spare(), tmp_path)
    async with QuickApp(job).run_test(size=size) as pilot:
        await opened(pilot)
        await typed(pilot, "1")
        await settled(pilot)
        await press(pilot, "enter")
        await typed(pilot, "12.5")
        await settled(pilot)
        await press(pilot, "pagedown", "c")
        await on(pilot, PickScreen)
        await press(pilot, "2")
        await on(pilot, AskScreen)
        await typed(pilot, "0")
        await typed(pilot, "there is none")
        await on(pilot, AgreeScreen)
        assert "No longer part of this job (1 step) 2 spare" in flat(pilot)
        await press(pilot, "g")
        await on(pilot, ClosingScreen)
        fail = "Failed, and never measured good again spare: wanted: it is as it should be"
        said = await whole(pilot)
        assert "Closing - not clean: 1 fail standing" in said
        assert fail in said
        await press(pilot, "g")
        await settled(pilot)
        assert job.state.closed
        assert "closed, not clean" in flat(pilot)
        assert fail in await whole(pilot) or size[1] < 20


async def test_the_map_of_zones_stands_on_the_step_and_one_key_away_on_a_small_window(tmp_path: Path) -> None:
    said = "> -/ /- the wire: dead, proved less than a min ago; hands may go here"
    job = to_join(tmp_path)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        assert said in flat(pilot)
        await pilot.resize_terminal(40, 12)
        await pilot.pause()
        assert said not in flat(pilot)
        await press(pilot, "e")
        await on(pilot, ReadScreen)
        assert said in flat(pilot)


async def test_the_map_never_takes_a_row_from_what_is_typed() -> None:
    job = runner(demo=False)
    walk(job, "prove-dead")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await type_text(pilot, "11.9")
        await pilot.pause()
        assert "[FAIL x] Receptacle, across the two contacts reads 11.9 V" in flat(pilot)
        assert "Enter take the value" in flat(pilot)
