"""A connector's positions in plain characters, a sentence for each, and the side it is seen from."""

from engine.view.models import ConnectorPicture, PositionRow
from tui.lines import Line, join_columns, line, piece, wrap

_ACROSS = {"left": 0, "right": 2}
_DOWN = {"top": 0, "upper": 0, "bottom": 2, "lower": 2}
_BESIDE = 56
"""Columns from which the drawing has room beside the sentences."""


def connector_lines(picture: ConnectorPicture, width: int) -> list[Line]:
    """Return the drawing beside its sentences, or the sentences alone in a narrow window."""
    head = wrap([piece(picture.title, "ask"), piece(f", {picture.seen_from}", "strong")], width)
    face = _face(picture.positions)
    across = max(each.width for each in face) + 2
    beside = width >= _BESIDE
    said = [
        one for row in picture.positions for one in wrap([piece(row.sentence)], width - across if beside else width)
    ]
    return head + (join_columns(face, said, across) if beside else said)


def _face(positions: tuple[PositionRow, ...]) -> list[Line]:
    """Draw the positions where their words say, in a frame of up to three by three; empty rows are left out."""
    places = {_place(row.where): row.number for row in positions}
    if len(places) < len(positions):
        places = {(0, at): row.number for at, row in enumerate(positions)}
    rows = sorted({down for down, _ in places})
    columns = range(max(3, *(across + 1 for _, across in places)))
    size = max(len(number) for number in places.values())
    inside = ["  ".join(places.get((down, across), "").center(size) for across in columns) for down in rows]
    edge = line(piece("+" + "-" * (len(inside[0]) + 2) + "+", "frame"))
    drawn = [line(piece("| ", "frame"), piece(text, "strong"), piece(" |", "frame")) for text in inside]
    return [edge, *drawn, edge]


def _place(where: str) -> tuple[int, int]:
    words = where.lower().replace("-", " ").replace(",", " ").split()
    down = next((_DOWN[word] for word in words if word in _DOWN), 1)
    across = next((_ACROSS[word] for word in words if word in _ACROSS), 1)
    return down, across
