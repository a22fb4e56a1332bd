"""Blocks on pages: air where there is room, whole blocks where it costs no page, nothing lost."""

from hypothesis import given
from hypothesis import strategies as st

from tui.draw.pages import Room, paged
from tui.lines import Block, block, line, piece


def blocks(*sizes: int) -> list[Block]:
    """Return blocks of so many lines each, every line with its own words."""
    return [block(f"b{n}", [line(piece(f"{n}.{at}")) for at in range(size)]) for n, size in enumerate(sizes)]


def shape(pages: list) -> list[int]:
    return [len(page) for page in pages]


def test_blocks_have_a_blank_line_between_them_where_there_is_room() -> None:
    assert [each.text for each in paged(blocks(1, 1), 3)[0]] == ["0.0", "", "1.0"]


def test_the_blank_lines_go_first() -> None:
    assert [each.text for each in paged(blocks(1, 1), 2)[0]] == ["0.0", "1.0"]


def test_a_block_stays_whole_where_it_costs_no_page() -> None:
    assert shape(paged(blocks(3, 3), 4)) == [3, 3]


def test_a_block_is_parted_before_a_page_is_added() -> None:
    assert shape(paged(blocks(3, 3, 2), 4)) == [4, 4]


def test_later_pages_may_have_more_room() -> None:
    assert shape(paged(blocks(1, 1, 1, 1, 1), 2, 3)) == [2, 3]


@given(st.lists(st.integers(0, 6), min_size=1, max_size=8), st.integers(1, 9), st.integers(0, 3))
def test_no_line_is_lost_and_no_page_is_too_long(sizes: list[int], rows: int, more: int) -> None:
    pages = paged(blocks(*sizes), rows, rows + more)
    words = [each.text for page in pages for each in page if each.text]
    assert words == [each.text for one in blocks(*sizes) for each in one.lines]
    assert all(size <= rows + (more if at else 0) for at, size in enumerate(shape(pages)))


def test_text_has_66_columns_at_80_and_36_at_40() -> None:
    """Line lengths are those of the project's rules for the screen: 66 at 80 columns, 36 at 40, never above 80."""
    assert [Room(width, 24).measure for width in (40, 80, 120, 200)] == [36, 66, 76, 76]
