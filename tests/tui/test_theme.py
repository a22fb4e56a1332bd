"""Contrast of every text on its ground, measured from the themes' own colours; and which theme a terminal gets."""

import pytest

from tests.tui.screen_help import OneScreen, row, screen_text, step, verdict, warning
from tui.screens.step import StepScreen
from tui.theme import DARK, LIGHT, LOOKS, chosen, contrast

LEAST = 7.0
"""Contrast of all text. Source: Web Content Accessibility Guidelines 2.1, 1.4.6 (enhanced contrast)."""


def test_contrast_of_known_pairs() -> None:
    """WCAG 2.1: black on white is 21; #767676 on white is the known lightest grey above 4.5."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("inks", [DARK, LIGHT], ids=["dark", "light"])
def test_every_text_stands_out_from_its_ground(inks: dict) -> None:
    low = {name: round(contrast(ink.text, ink.ground), 2) for name, ink in inks.items()}
    assert {name: ratio for name, ratio in low.items() if ratio < LEAST} == {}


@pytest.mark.parametrize("theme", ["tugtest-dark", "tugtest-light"])
async def test_what_is_drawn_has_the_contrast_too(theme: str) -> None:
    """Every piece of text on the screen is measured as it is drawn, the entry line and its cursor included."""
    view = step(demo=True, hold="firm", warnings=(warning("DANGER"),), rows=(row(),), verdicts=(verdict("fail"),))
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        pilot.app.theme = theme
        pilot.app.one.entry.value = "24"
        await pilot.pause()
        drawn = [segment for strip in pilot.app.screen._compositor.render_strips() for segment in strip]
        low = {
            segment.text
            for segment in drawn
            if segment.text.strip()
            and contrast(segment.style.color.triplet.hex, segment.style.bgcolor.triplet.hex) < LEAST
        }
        assert low == set()


def test_every_look_has_its_ink_in_both_themes() -> None:
    inks = {ink for ink, _ in LOOKS.values()}
    assert inks <= set(DARK)
    assert inks <= set(LIGHT)


def test_no_colour_gets_the_terminals_own_two_colours() -> None:
    assert chosen({"NO_COLOR": "1", "COLORTERM": "truecolor"}) == "tugtest-none"


@pytest.mark.parametrize("term", ["linux", "dumb", "vt220", "xterm-16color"])
def test_few_colours_get_the_terminals_own_two_colours(term: str) -> None:
    assert chosen({"TERM": term}) == "tugtest-none"


@pytest.mark.parametrize(
    ("asked", "theme"), [("light", "tugtest-light"), ("dark", "tugtest-dark"), ("pink", "tugtest-dark")]
)
def test_looks_can_be_asked_for(asked: str, theme: str) -> None:
    assert chosen({"TERM": "xterm-256color", "TUGTEST_LOOKS": asked}) == theme


@pytest.mark.parametrize("look", ["tugtest-dark", "tugtest-light", "tugtest-none"])
async def test_a_verdict_can_be_read_without_colour(look: str) -> None:
    async with OneScreen(StepScreen(step(verdicts=(verdict("fail"), verdict("pass"))))).run_test() as pilot:
        pilot.app.theme = look
        await pilot.pause()
        assert "[FAIL x]" in screen_text(pilot.app)
        assert "[PASS +]" in screen_text(pilot.app)


async def test_one_key_goes_through_the_looks() -> None:
    async with OneScreen(StepScreen(step())).run_test() as pilot:
        seen = [pilot.app.theme]
        for _ in range(3):
            await pilot.press("f12")
            seen.append(pilot.app.theme)
        assert seen == ["tugtest-dark", "tugtest-light", "tugtest-none", "tugtest-dark"]


async def test_an_app_that_begins_light_is_light_all_over(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUGTEST_LOOKS", "light")
    async with OneScreen(StepScreen(step(rows=(row(),)))).run_test() as pilot:
        assert pilot.app.one.entry.styles.background.hex.lower() == LIGHT["entry"].ground
