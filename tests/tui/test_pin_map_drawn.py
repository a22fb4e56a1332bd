"""A pin map on the screen: what was understood is drawn beside the entry, at the usual and at the smallest size."""

import pytest

from engine.view.models import Preview
from engine.view.pin_map import map_picture
from tests.session.mapped import mapped
from tests.tui.screen_help import OneScreen, row, screen_text, step, verdict
from tui.draw.caret import excerpt
from tui.draw.pin_map import map_lines, short_names
from tui.screens.step import StepScreen

MAP = map_picture(mapped().entry_by_id["map"], "1-left 1-right=300 2-OL 3-ground")
assert MAP is not None
SEEN = Preview(echo=MAP.says, map=MAP, verdicts=(verdict("fail", sentence="not joined: 2 to right"),))

GRID = ["  le r g la", "1 x  r . . ", "2 .  . . . ", "3 .  . x . "]
STRIP = ["1-le+r 2-OL 3-g"]


def test_the_grid_is_drawn_where_it_has_room() -> None:
    assert [each.text for each in map_lines(MAP, 66, 15)] == GRID


@pytest.mark.parametrize(("width", "rows"), [(66, 3), (10, 15)])
def test_the_strip_is_drawn_where_it_has_none(width: int, rows: int) -> None:
    assert " ".join(each.text.strip() for each in map_lines(MAP, width, rows)) == STRIP[0]


def test_names_are_cut_as_short_as_they_can_be_typed() -> None:
    names = ("left", "Lamp", "10", "1", "tail", "tail2")
    assert list(short_names(names).values()) == ["le", "La", "10", "1", "tail", "tail2"]


@pytest.mark.parametrize(("size", "drawn"), [((80, 24), GRID), ((40, 12), STRIP)])
async def test_the_drawing_stands_beside_the_entry(size: tuple[int, int], drawn: list[str]) -> None:
    view = step(rows=(row("map", unit="rows", ask="What each contact reaches"),), ready=False)
    async with OneScreen(StepScreen(view, lambda entry, text: SEEN)).run_test(size=size) as pilot:
        await pilot.press("1")
        text = screen_text(pilot.app)
        for part in (*drawn, "What each contact reaches", "= 2 joined (x)", "[FAIL x] not joined: 2 to right"):
            assert part.rstrip() in text


async def test_a_fault_beyond_a_small_window_is_shown_with_what_stands_around_it() -> None:
    view = step(rows=(row("map", unit="rows"),), ready=False)
    typed = "1-left 2-right 3-ground 3-right 3-lamp 3-tail"
    wrong = Preview(problem="There is no position tail here.", column=typed.index("tail"))
    async with OneScreen(StepScreen(view, lambda entry, text: wrong)).run_test(size=(40, 12)) as pilot:
        pilot.app.one.entry.value = typed
        await pilot.pause()
        lines = screen_text(pilot.app).splitlines()
        (at,) = [number for number, each in enumerate(lines) if each.strip() == "^"]
        place = lines[at].index("^")
        assert lines[at - 1][place : place + 4] == "tail"


def test_an_excerpt_never_leaves_the_text() -> None:
    text = "abcdefghij"
    for column in range(len(text) + 1):
        part, at = excerpt(text, column, 4)
        assert part in text
        assert (part + " ")[at] == (text + " ")[column]
