"""Home, return, closing, and the screens that ask, at every size: whole, and answered by the keys they name."""

from typing import Any

import pytest

from engine.view.models import ClosingView, HomeView, OpenSession, ProcedureLine, ReturnView, Shut
from tests.tui.pressing import until
from tests.tui.screen_help import SIZES, OneScreen, screen_text
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen, Field
from tui.screens.closing import ClosingScreen
from tui.screens.coming_back import ReturnScreen
from tui.screens.home import HomeScreen
from tui.screens.page import PageScreen
from tui.screens.picking import PickScreen

HOME = HomeView(
    open=(OpenSession("/a.toml", "Grey Heron, Bow-motor receptacle swap, step 14 of 50, 1 day ago; batteries off"),),
    procedures=tuple(ProcedureLine(f"p{n}", f"Procedure number {n}", "what it is for, in a line") for n in range(10)),
    ended=(OpenSession("/b.toml", "Blue Tern, closed, clean, 2025-06-01"),),
    folder="/home/somebody/.local/share/tugtest/sessions",
    problems=("c.toml: is altered at event 12",),
)
RETURN = ReturnView(
    title="Bow-motor receptacle swap - Grey Heron",
    away="away for 2 hours",
    line="left hand wire still loose",
    physical=("batteries: off, all rings lifted", "panel: out, supported"),
    last=("Tap A to hull: 0.00 V", "Tap B to hull: 0.00 V", 'done: "Old taps, volts"'),
    expired=('"Prove it dead" no longer holds',),
    left_to_do=("do-not-connect tag taken off the battery",),
    next_step='next: step 18 of 55, "Prove it dead"',
    asks_to_look=True,
)
CLOSING = ClosingView(
    title="Closing - not yet",
    can_close=False,
    blocks=tuple(Shut(f"left to do: thing number {n} is back", f"step-{n}") for n in range(11)),
    left_to_do=(),
    standing=("Tap A: 12.5 V under load on a spare end",),
    not_measured=("Old receptacle: nothing printed on it",),
    accepted=("drop 4.6 % - wire is to be changed in spring",),
    deviations=(),
    due=("after the first day's use: heat, smell, nut",),
    ended="",
    head="ab12 cd34 ef56 7890",
    events=131,
)
FIELDS = (Field("Why do you go on?", 10, "10 characters or more"), Field("Your initials"))


async def all_pages(app: OneScreen, pilot: Any) -> str:
    """Return the text of every page of the screen."""
    screen = app.screen
    assert isinstance(screen, PageScreen)
    seen = screen_text(app)
    while not screen.read_to_end:
        screen.action_next_page()
        await pilot.pause()
        seen += "\n" + screen_text(app)
    return " ".join(seen.split())


def texts(view: Any) -> list[str]:
    """Return every word of a view-model's texts."""
    found: list[str] = []
    for name in view.__slots__:
        value = getattr(view, name)
        parts = value if isinstance(value, tuple) else (value,)
        found += [
            part.sentence if hasattr(part, "sentence") else part for part in parts if not isinstance(part, bool | int)
        ]
    return [word for text in found if isinstance(text, str) for word in text.split()]


@pytest.mark.parametrize("size", SIZES)
async def test_the_return_screen_is_whole(size: tuple[int, int]) -> None:
    app = OneScreen(ReturnScreen(RETURN, demo=True))
    async with app.run_test(size=size) as pilot:
        seen = await all_pages(app, pilot)
        assert [word for word in texts(RETURN) if word not in seen] == []


async def test_the_return_screen_is_read_on_with_the_usual_key_and_left_with_another() -> None:
    app = OneScreen(ReturnScreen(RETURN))
    async with app.run_test(size=(40, 12)) as pilot:
        assert app.one.page_count > 1
        assert "Enter  read on" in screen_text(app)
        await pilot.press(*["enter"] * 5)
        assert app.results == []
        assert " g  go on" in screen_text(app)
        await pilot.press("g")
        assert app.results == ["on"]


@pytest.mark.parametrize("size", SIZES)
async def test_the_closing_screen_is_whole_up_to_nine_blocks(size: tuple[int, int]) -> None:
    app = OneScreen(ClosingScreen(CLOSING))
    async with app.run_test(size=size) as pilot:
        seen = await all_pages(app, pilot)
        assert "thing number 8 is back" in seen
        assert CLOSING.standing[0] in seen
        assert "and 2 more" in seen
        assert CLOSING.head in seen


@pytest.mark.parametrize("size", SIZES)
async def test_the_first_screen_is_whole(size: tuple[int, int]) -> None:
    app = OneScreen(HomeScreen(HOME))
    async with app.run_test(size=size) as pilot:
        seen = await all_pages(app, pilot)
        assert "Grey Heron, Bow-motor receptacle swap, step 14 of 50" in seen
        assert "is altered at event 12" in seen
        await pilot.press("0")
        await pilot.pause()
        app.screen.page, app.screen.read_to_end = 0, False
        app.screen.refill()
        await pilot.pause()
        assert "Blue Tern, closed, clean" in await all_pages(app, pilot)


@pytest.mark.parametrize("size", SIZES)
async def test_a_question_is_whole_and_its_digit_is_handed_back(size: tuple[int, int]) -> None:
    app = OneScreen(
        PickScreen("A question", "0.52 m is far from the usual 1.5 to 8 m.", ("0.52 m, as typed", "did you mean 5.2 m"))
    )
    async with app.run_test(size=size) as pilot:
        assert "did you mean 5.2 m" in await all_pages(app, pilot)
        await pilot.press("2")
        await until(pilot, lambda: app.results)
        assert app.results == [1]


@pytest.mark.parametrize("size", SIZES)
async def test_questions_are_asked_one_after_another(size: tuple[int, int]) -> None:
    app = OneScreen(AskScreen("Deviation", "[FAIL x] drop 7 % is over 5 %.", FIELDS))
    async with app.run_test(size=size) as pilot:
        app.one.entry.value = "the owner wants it so"
        await pilot.press("enter")
        await pilot.pause()
        assert "Your initials" in screen_text(app)
        app.one.entry.value = "AB"
        await pilot.press("enter")
        await until(pilot, lambda: app.results)
        assert app.results == [("the owner wants it so", "AB")]


async def test_a_question_left_by_escape_hands_back_nothing() -> None:
    app = OneScreen(AskScreen("Note", "", (Field("Your note"),)))
    async with app.run_test() as pilot:
        await pilot.press("a", "escape")
        await until(pilot, lambda: app.results)
        assert app.results == [None]


async def test_an_answer_that_may_be_empty_may_be_empty() -> None:
    app = OneScreen(AskScreen("Leave", "", (Field("What should you know then?", 0),)))
    async with app.run_test() as pilot:
        await pilot.press("enter")
        await until(pilot, lambda: app.results)
        assert app.results == [("",)]


@pytest.mark.parametrize(("key", "agreed"), [("g", True), ("escape", False)])
async def test_what_follows_is_said_and_agreed_to(key: str, agreed: bool) -> None:
    app = OneScreen(AgreeScreen("Before it happens", "These steps have to be done again:", ("Prove it dead",)))
    async with app.run_test() as pilot:
        assert "- Prove it dead" in screen_text(app)
        await pilot.press("enter")
        assert app.results == []
        await pilot.press(key)
        await until(pilot, lambda: app.results)
        assert app.results == [agreed]


async def test_agreeing_waits_until_all_was_read() -> None:
    points = tuple(f"step number {n} with a long name of its own" for n in range(12))
    app = OneScreen(AgreeScreen("Before it happens", "These steps have to be done again:", points))
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.press("g")
        assert app.results == []


async def test_text_in_the_middle_of_a_note_survives_a_resize() -> None:
    app = OneScreen(AskScreen("Note", "It goes into the log as you type it.", (Field("Your note"),)))
    async with app.run_test(size=(80, 24)) as pilot:
        app.one.entry.value = "label is scr"
        await pilot.resize_terminal(40, 12)
        await pilot.press("a")
        assert app.one.entry.value == "label is scra"


async def test_paste_goes_into_the_entry_on_one_line() -> None:
    from textual.events import Paste

    app = OneScreen(AskScreen("Note", "", (Field("Your note"),)))
    async with app.run_test() as pilot:
        app.post_message(Paste("24.9\nrm -rf"))
        await pilot.pause()
        assert app.one.entry.value == "24.9"


async def test_a_window_too_small_says_so_and_takes_no_answer() -> None:
    app = OneScreen(AskScreen("Note", "It goes into the log as you type it.", (Field("Your note"),)))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await pilot.resize_terminal(20, 6)
        assert "20 x 6 is too small" in " ".join(screen_text(app).split())
        assert "Note" not in screen_text(app)
        await pilot.press("b", "enter")
        await pilot.resize_terminal(40, 12)
        await pilot.press("c")
        assert app.one.entry.value == "ac"
        assert app.results == []
