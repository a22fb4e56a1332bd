"""Wrapping by words to a width in cells."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.lines import join_columns, line, piece, wrap

TEXTS = st.text(alphabet=st.sampled_from("abc de 1 V 海鳥.-"), max_size=80)


def texts(lines: list) -> list[str]:
    return [each.text.rstrip() for each in lines]


def test_lines_break_between_words() -> None:
    assert texts(wrap([piece("one two three")], 8)) == ["one two", "three"]


def test_a_space_in_the_last_cell_of_a_line_still_parts_two_words() -> None:
    assert texts(wrap([piece("abc d ef")], 4)) == ["abc", "d ef"]


def test_later_lines_hang_under_the_text_after_a_label() -> None:
    assert texts(wrap([piece("one two")], 8, piece("- "))) == ["- one", "  two"]


def test_a_word_in_two_looks_is_not_parted() -> None:
    assert texts(wrap([piece("aa bb", "ask"), piece(": cc")], 5)) == ["aa", "bb:", "cc"]


def test_a_number_keeps_its_unit() -> None:
    assert texts(wrap([piece("drop of 3 % here")], 9)) == ["drop of", "3 % here"]


def test_a_verdict_keeps_its_sign() -> None:
    assert texts(wrap([piece("run [FAIL x]")], 9)) == ["run", "[FAIL x]"]


def test_a_word_longer_than_a_line_is_cut_not_dropped() -> None:
    assert "".join(texts(wrap([piece("abcdefgh")], 3))) == "abcdefgh"


def test_columns_stand_side_by_side() -> None:
    joined = join_columns([line(piece("a"))], [line(piece("b")), line(piece("c"))], 4)
    assert texts(joined) == ["a   b", "    c"]


@given(TEXTS, st.integers(min_value=4, max_value=40))
def test_no_line_is_wider_than_its_width(text: str, width: int) -> None:
    assert all(cell_len(each.text.rstrip()) <= width for each in wrap([piece(text)], width))


@given(TEXTS, st.integers(min_value=4, max_value=40))
def test_no_letter_is_lost(text: str, width: int) -> None:
    wrapped = "".join(texts(wrap([piece(text)], width)))
    assert "".join(wrapped.split()) == "".join(text.split())
