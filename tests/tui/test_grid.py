"""The small terminal that the benches read screens with puts text where it belongs."""

from tests.tui.grid import Grid


def test_text_stands_where_the_cursor_was_sent_and_colours_leave_no_trace() -> None:
    grid = Grid(12, 3)
    grid.feed(b"\x1b[?1049h\x1b[?2026$p\x1b]22;default\x07\x1b[2;3H\x1b[38;2;1;2;3mab\x1b[0mc\x1b[1;1Htop")
    assert grid.lines == ["top", "abc"]


def test_what_is_painted_over_is_gone_and_a_cleared_screen_is_empty() -> None:
    grid = Grid(12, 3)
    grid.feed(b"\x1b[1;1Hlonger\x1b[1;1Hshort ")
    assert grid.lines == ["short"]
    grid.feed(b"\x1b[2J")
    assert grid.lines == []


def test_sequences_and_letters_that_are_cut_in_two_wait_for_their_rest() -> None:
    grid = Grid(12, 2)
    whole = "\x1b[1;4H20 °C".encode()
    for at in range(len(whole)):
        grid = Grid(12, 2)
        grid.feed(whole[:at])
        grid.feed(whole[at:])
        assert "".join(grid.cells[0]).rstrip() == "   20 °C", at
