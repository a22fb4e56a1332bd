"""Lines of text with looks, wrapped to a width in cells: what every screen is drawn from."""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rich.cells import cell_len, chop_cells

from tui.inert import one_line


class Piece(NamedTuple):
    """A run of text in one look, made by ``piece``, which cleans it. ``key`` is what a click on it presses."""

    text: str
    look: str = "plain"
    key: str = ""


class Line(NamedTuple):
    """One line on the screen. ``key`` is the key that a click or touch on it stands for.

    ``fill`` is the look of the rest of it, ``margin`` the cells before it, ``edge`` the look of a bar before it.
    """

    pieces: tuple[Piece, ...] = ()
    key: str = ""
    fill: str = "plain"
    margin: int = 2
    edge: str = ""

    @property
    def text(self) -> str:
        """The line without its looks."""
        return "".join(piece.text for piece in self.pieces)

    @property
    def width(self) -> int:
        """Its width in cells."""
        return cell_len(self.text)


class Block(NamedTuple):
    """Lines that belong together, and are kept on one page where they can be."""

    name: str
    lines: tuple[Line, ...]


EMPTY = Line()


def piece(text: str, look: str = "plain", key: str = "") -> Piece:
    """Return a run of text, made harmless."""
    return Piece(one_line(text), look, key)


def line(*pieces: Piece, key: str = "") -> Line:
    """Return one line, not wrapped."""
    return Line(pieces, key)


def block(name: str, lines: Iterable[Line]) -> Block:
    """Return lines that belong together."""
    return Block(name, tuple(lines))


def wrap(
    pieces: Iterable[Piece], width: int, lead: Piece | tuple[Piece, ...] = (), hang: int | None = None, key: str = ""
) -> list[Line]:
    """Wrap runs of text to a width, by words.

    Args:
        pieces: Runs of text; they are joined as they stand, so a space between two of them must be in one of them.
        width: Cells of a line [cells].
        lead: What stands before the first line (a mark, a label).
        hang: Cells that all later lines are set in [cells]; as wide as ``lead`` if not said.
        key: The key that a click on the lines stands for.

    Returns:
        At least one line; a word longer than a line is cut, never dropped.
    """
    before = [lead] if isinstance(lead, Piece) else list(lead)
    first = sum(cell_len(each.text) for each in before)
    inset = first if hang is None else hang
    lines: list[list[Piece]] = [before]
    used = start = first
    for word in _words(pieces, width - max(inset, first)):
        size = cell_len("".join(each.text for each in word))
        blank = word[0].text == " " * len(word[0].text)
        if blank and (used == start or used + size > width):
            continue
        if used > start and used + size > width:
            lines.append([Piece(" " * inset)] if inset else [])
            used = start = inset
        lines[-1] += word
        used += size
    return [Line(_joined(each), key) for each in lines]


def join_columns(left: list[Line], right: list[Line], at: int) -> list[Line]:
    """Set two columns side by side; the right one starts at cell ``at``."""
    rows = max(len(left), len(right))
    lines = []
    for row in range(rows):
        one = left[row] if row < len(left) else EMPTY
        two = right[row] if row < len(right) else EMPTY
        gap = Piece(" " * max(0, at - one.width))
        lines.append(Line((*one.pieces, gap, *two.pieces), one.key or two.key) if two.pieces else one)
    return lines


_TIED = re.compile(
    r"(?<=\d) (?=(?:%|(?:m?V|m?A|Ah|k?W|m?ohm|mm2?|m|in|ft|AWG|degC|K|N|kg|s|min|h)(?![a-z])))|(?<=[A-Z]) (?=[+~?ox]\])"
)
"""The space between a number and its unit, and between a verdict and its sign: no line breaks there."""
NO_BREAK = "\u00a0"
"""A space that a line is not broken at; it is drawn as a space."""


def _words(pieces: Iterable[Piece], longest: int) -> Iterator[list[Piece]]:
    """Cut runs into words and spaces. A word may change its look within; one longer than a line is cut."""
    word: list[Piece] = []
    blank = False
    for each in pieces:
        for text in re.findall(r" +|[^ ]+", _TIED.sub(NO_BREAK, each.text)):
            if word and (text[0] == " ") != blank:
                yield from _fitting(word, longest)
                word = []
            blank = text[0] == " "
            word.append(Piece(text.replace(NO_BREAK, " "), each.look, each.key))
    if word:
        yield from _fitting(word, longest)


def _fitting(word: list[Piece], longest: int) -> list[list[Piece]]:
    if cell_len("".join(each.text for each in word)) <= longest:
        return [word]
    return [[Piece(part, each.look)] for each in word for part in chop_cells(each.text, max(1, longest))]


def _joined(pieces: list[Piece]) -> tuple[Piece, ...]:
    joined: list[Piece] = []
    for each in pieces:
        if joined and joined[-1].look == each.look and joined[-1].key == each.key:
            joined[-1] = Piece(joined[-1].text + each.text, each.look, each.key)
        else:
            joined.append(each)
    while joined and joined[-1].text.isspace() and len(joined) > 1:
        joined.pop()
    return tuple(joined)
