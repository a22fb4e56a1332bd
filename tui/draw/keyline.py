"""The line of keys at the foot of a screen: as many as fit, the most useful first."""

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from tui.keys import shown
from tui.lines import EMPTY, Line, Piece, piece


@dataclass(frozen=True, slots=True)
class Hint:
    """A key and its word. ``key`` is the key as the library names it."""

    key: str
    word: str


def key_lines(hints: Sequence[Hint], width: int, rows: int = 1) -> list[Line]:
    """Return the keys on at most ``rows`` lines; what does not fit is left out from the end."""
    lines: list[list[Piece]] = [[]]
    used = 0
    for hint in hints:
        pieces = [piece(f" {shown(hint.key)} ", "key", hint.key), piece(f" {hint.word}", "place", hint.key)]
        size = sum(cell_len(each.text) for each in pieces)
        gap = 2 if used else 0
        if used and used + gap + size > width:
            if len(lines) == rows:
                break
            lines.append([])
            used = gap = 0
        lines[-1] += [piece("  ", "place"), *pieces] if gap else pieces
        used += gap + size
    return [Line(tuple(each)) if each else EMPTY for each in lines]
