"""Blocks of lines put on as few pages as they need: with air between them, without, or one page after another."""

from typing import NamedTuple

from tui.lines import EMPTY, Block, Line


class Room(NamedTuple):
    """The room there is for text: columns and rows of the window, and how text sits in it."""

    width: int
    height: int

    @property
    def margin(self) -> int:
        """Cells left free on the left."""
        return 2

    @property
    def measure(self) -> int:
        """The longest line of text [cells]: 66 at 80 columns and never above 76, 36 at 40 columns."""
        return min(66 if self.width < 100 else 76, self.width - 2 * self.margin)


def paged(blocks: list[Block], rows: int, later_rows: int = 0) -> list[list[Line]]:
    """Put blocks on pages of at most ``rows`` lines; later pages may have room for more (``later_rows``).

    One page if they fit with a blank line between blocks, or else without; otherwise page after page, keeping blocks
    whole unless that would cost another page.
    """
    filled = [each for each in blocks if each.lines]
    for gap in (1, 0):
        lines = _joined(filled, gap)
        if len(lines) <= rows:
            return [lines]
    room = max(1, rows), max(1, rows, later_rows)
    whole = _kept_whole(filled, *room)
    poured = _poured(filled, *room)
    return whole if len(whole) <= len(poured) else poured


def _joined(blocks: list[Block], gap: int) -> list[Line]:
    lines: list[Line] = []
    for each in blocks:
        lines += [EMPTY] * (gap if lines else 0) + list(each.lines)
    return lines


def _kept_whole(blocks: list[Block], rows: int, later_rows: int) -> list[list[Line]]:
    pages: list[list[Line]] = [[]]
    for each in blocks:
        free = rows if len(pages) == 1 else later_rows
        if pages[-1] and len(pages[-1]) + len(each.lines) > free:
            pages.append([])
        for one in each.lines:
            if len(pages[-1]) == (rows if len(pages) == 1 else later_rows):
                pages.append([])
            pages[-1].append(one)
    return pages


def _poured(blocks: list[Block], rows: int, later_rows: int) -> list[list[Line]]:
    lines = _joined(blocks, 0)
    later = lines[rows:]
    return [lines[:rows], *(later[at : at + later_rows] for at in range(0, len(later), later_rows))]
