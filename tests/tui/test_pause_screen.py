"""The technician's list: each step by its own digit, none by any other key, nothing skipped, at every size."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

import pytest
from textual.pilot import Pilot

from engine.session.pauses import pauses
from engine.view.models import PauseItem, PauseView, Shut
from tests.tui.pressing import QuickApp, on, opened, settled, until
from tests.tui.screen_help import SIZES, OneScreen, screen_text
from tests.tui.walker import commands, for_technicians, runner, view_of, walk
from tui.job import Job
from tui.screens.pause import PauseScreen
from tui.screens.picking import PickScreen
from tui.screens.step import StepScreen
from tui.step_mode import Mode

MOST_PAGES = {(40, 12): 3, (60, 20): 2}


def item(name: str, **changes: Any) -> PauseItem:
    plain = {"step": name, "title": f"Title {name}", "action": f"Do {name} now.", "status": "open", "opens": False}
    return PauseItem(**{**plain, **changes})


def pause(*items: PauseItem) -> PauseView:
    place = "Steps 3 to 5 of 9 - Close - no hold ahead - 1 left to do"
    return PauseView(place, items, demo=False, left_to_do=("cover back on",), previous="x")


THREE = pause(item("a", status="done"), item("b"), item("c", opens=True, asks="3 values"))


def picked(app: OneScreen) -> list[str]:
    return [message.item.step for message in app.told if isinstance(message, PauseScreen.Picked)]


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("size", SIZES)
async def test_the_list_is_counted_and_each_step_has_its_state(size: tuple[int, int]) -> None:
    async with OneScreen(PauseScreen(THREE)).run_test(size=size) as pilot:
        text = flat(screen_text(pilot.app))
        for part in ("confirm each: 1 of 3", "+ 1 Title a (done)", "> 2 Title b: Do b now.", "- 3 Title c (3 values)"):
            assert part in text


@pytest.mark.parametrize("key", ["enter", "space", "g", "a", "4", "0"])
async def test_no_other_key_confirms_anything(key: str) -> None:
    async with OneScreen(PauseScreen(THREE)).run_test() as pilot:
        await pilot.press(key)
        assert picked(pilot.app) == []
        assert pilot.app.told == []


async def test_enter_says_what_is_wanted() -> None:
    async with OneScreen(PauseScreen(THREE)).run_test() as pilot:
        await pilot.press("enter")
        assert "Each step has its own digit." in screen_text(pilot.app)


async def test_a_digit_reports_its_step_once() -> None:
    async with OneScreen(PauseScreen(THREE)).run_test() as pilot:
        await pilot.press("2", "3")
        assert picked(pilot.app) == ["b"]


async def test_a_double_press_is_one_press_even_on_the_screen_behind() -> None:
    app = OneScreen(PauseScreen(THREE))
    app.seconds = lambda: 5.0
    async with app.run_test() as pilot:
        await pilot.press("2")
        app.one.show_pause(THREE)
        await pilot.press("2")
        assert picked(pilot.app) == ["b"]


async def test_a_shut_step_says_what_it_needs() -> None:
    shut = item("d", status="shut", shut=(Shut('needs step 2, "Breaker off", first', "breaker-off"),))
    async with OneScreen(PauseScreen(pause(item("a"), shut))).run_test() as pilot:
        assert '(shut: needs step 2, "Breaker off", first)' in flat(screen_text(pilot.app))


async def test_values_and_verdicts_of_a_step_are_told_by_word_and_sign() -> None:
    marginal = item("d", status="done", label="[MARGINAL ~]", verdict="marginal")
    async with OneScreen(PauseScreen(pause(item("a"), marginal))).run_test() as pilot:
        assert "+ 2 Title d [MARGINAL ~]" in flat(screen_text(pilot.app))


async def test_what_is_left_to_do_is_named_where_there_is_room() -> None:
    async with OneScreen(PauseScreen(THREE)).run_test(size=(80, 24)) as pilot:
        assert "cover back on" in screen_text(pilot.app)


async def test_a_message_on_a_small_window_does_not_keep_the_list_from_being_read() -> None:
    view = pause(*(item(f"{n}", opens=True, asks="4 values", title=f"Crimp the wire number {n}") for n in range(9)))
    async with OneScreen(PauseScreen(view)).run_test(size=(40, 12)) as pilot:
        await pilot.press("2")
        assert "Read on first" in screen_text(pilot.app)
        await pilot.press("enter", "2")
        assert picked(pilot.app) == ["1"]


# With a job


@asynccontextmanager
async def at_a_pause(step: str = "") -> AsyncIterator[tuple[Pilot[Any], Job]]:
    """Open the job at its first pause, or where a step of a pause comes next."""
    job = runner(for_technicians(), mode="do-confirm")
    walk(job, step or pauses(job.procedure, job.state)[0][0].id)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        yield pilot, Job(job)


async def test_a_step_with_values_opens_and_comes_back_to_its_list() -> None:
    async with at_a_pause() as (pilot, job):
        screen = pilot.app.screen
        assert isinstance(screen, PauseScreen)
        wanted = screen.view.items[0]
        await pilot.press("1")
        await settled(pilot)
        assert isinstance(pilot.app.screen, StepScreen)
        assert pilot.app.screen.view.id == wanted.step
        await pilot.press("f3")
        await settled(pilot)
        assert isinstance(pilot.app.screen, PauseScreen)
        assert wanted.step not in job.runner.state.done


async def test_a_digit_on_a_plain_step_ends_that_step_alone() -> None:
    async with at_a_pause("panel-out") as (pilot, job):
        screen = pilot.app.screen
        assert isinstance(screen, PauseScreen)
        before = set(job.runner.state.done)
        await pilot.press("2")
        await settled(pilot)
        assert set(job.runner.state.done) - before == {"panel-out"}
        assert "confirm each: 2 of" in screen_text(pilot.app)


async def test_the_way_of_working_can_be_changed_and_is_in_the_log() -> None:
    async with at_a_pause() as (pilot, job):
        await pilot.press("o")
        await on(pilot, PickScreen)
        await pilot.press("1")
        await settled(pilot)
        assert isinstance(pilot.app.screen, StepScreen)
        assert job.runner.state.mode == "read-do"


async def test_the_palette_offers_the_steps_and_only_what_needs_no_one_step() -> None:
    async with at_a_pause() as (pilot, _):
        await pilot.press("ctrl+p")
        await until(pilot, lambda: "answer: Panel out" in screen_text(pilot.app))
        text = screen_text(pilot.app)
        assert "step: note" in text
        assert not [word for word in ("step: done", "step: sum", "step: not measured", "step: redo") if word in text]


async def test_the_digit_that_opened_a_step_does_not_answer_its_question() -> None:
    """A double press within 0.4 s is one press, on whatever screen it lands."""
    async with at_a_pause() as (pilot, job):
        pilot.app.seconds = lambda: 5.0  # type: ignore[method-assign]
        given = set(job.runner.state.given)
        await pilot.press("1")
        await settled(pilot)
        assert isinstance(pilot.app.screen, StepScreen)
        assert pilot.app.screen.mode is Mode.CHOICE
        await pilot.press("1")
        await settled(pilot)
        assert set(job.runner.state.given) == given


async def test_a_refused_step_takes_one_key_to_the_step_that_is_named() -> None:
    job = runner()
    walk(job, "open-hole")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        desk = pilot.app.desk
        await desk.show("negative-in")
        await pilot.pause()
        wanted = desk.job.step("negative-in").shut[0].step
        await pilot.press("t")
        await settled(pilot)
        assert pilot.app.screen.view.id == wanted


# At every size


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_every_pause_of_the_job_is_whole_at_every_size(size: tuple[int, int]) -> None:
    job = runner(for_technicians(), mode="do-confirm")
    while (step := Job(job).current()) is not None:
        if (view := Job(job).pause(step)) is not None and view.confirmed == 0:
            await whole(view, size)
        for command in commands(job, step):
            job.send(command)


async def whole(view: PauseView, size: tuple[int, int]) -> None:
    screen = PauseScreen(view)
    async with OneScreen(screen).run_test(size=size) as pilot:
        screen.page, screen.read_to_end = 0, False
        screen.refill()
        await pilot.pause()
        seen = screen_text(pilot.app)
        assert screen.page_count <= MOST_PAGES.get(size, 1)
        while not screen.read_to_end:
            await pilot.press("enter")
            await pilot.pause()
            seen += "\n" + screen_text(pilot.app)
        shown = [word for i in view.items for word in f"{i.title} {'' if i.opens else i.action}".split()]
        assert [word for word in shown if word not in seen] == []


def test_what_is_confirmed_from_the_list_has_no_warning_and_no_hold() -> None:
    job = runner(for_technicians(), mode="do-confirm")
    for step in (s for p in pauses(job.procedure, job.state) for s in p):
        view = view_of(job, step.id)
        assert [view.hold, view.irreversible, *view.warnings, *view.stop_if] == ["", ""]
