"""The line of keys at the foot of a screen: as many as fit, the most useful first."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rich.cells import cell_len

from tui.keys import Key, shown
from tui.lines import EMPTY, Line, Piece, piece


class Hint(NamedTuple):
    """A key and its word. ``key`` is the key as the library names it, ``id`` the name it is remapped by."""

    key: str
    word: str
    id: str = ""


def hint(key: Key, word: str = "") -> Hint:
    """Return the hint of a key of the table, under its own word or another."""
    return Hint(key.keys.split(",")[0], word or key.word, key.id)


def key_lines(hints: Sequence[Hint], width: int, rows: int = 1, own: Mapping[str, str] | None = None) -> list[Line]:
    """Return the keys on at most ``rows`` lines, leaving out from the end; ``own`` are remapped keys by id."""
    lines: list[list[Piece]] = [[]]
    used = 0
    for each_hint in hints:
        key = (own or {}).get(each_hint.id, each_hint.key).split(",")[0]
        pieces = [piece(f" {shown(key)} ", "key", key), piece(f" {each_hint.word}", "place", key)]
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
