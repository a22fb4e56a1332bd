"""Text that is made harmless: nothing moves the cursor, turns the line round, or hides."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.inert import inert, one_line

HOSTILE = (
    "\x1b",
    "\x07",
    "\x9b",
    "\x7f",
    "\r",
    "\u202e",
    "\u2066",
    "\u200b",
    "\ufeff",
    "\u2028",
    "\u00ad",
    "\ue000",
    "\ud800",
)


@pytest.mark.parametrize("sign", HOSTILE)
def test_a_hostile_sign_is_written_out(sign: str) -> None:
    assert inert(f"a{sign}b") == f"a<U+{ord(sign):04X}>b"


def test_markup_stays_text() -> None:
    assert inert("[b]x[/b] [link=x]") == "[b]x[/b] [link=x]"


def test_letters_of_all_kinds_stay() -> None:
    assert inert("Möwe 海鳥 Ω ° ±") == "Möwe 海鳥 Ω ° ±"


def test_marks_that_would_paint_over_other_lines_are_cut() -> None:
    assert inert("a" + "\u0301" * 50) == "a" + "\u0301" * 3


def test_a_line_end_becomes_a_space_on_one_line() -> None:
    assert one_line("a\nb\tc") == "a b c"


@given(st.text())
def test_nothing_comes_through_that_a_terminal_acts_on(text: str) -> None:
    kept = [sign for sign in one_line(text) if unicodedata.category(sign).startswith("C")]
    assert kept == []
