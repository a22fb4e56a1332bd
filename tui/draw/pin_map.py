"""A pin map in plain characters: a grid of both ends, or where it has no room a strip of what each position reaches."""

from engine.view.models import MapPicture, MapRow
from tui.lines import Line, line, piece, wrap


def map_lines(picture: MapPicture, width: int, rows: int) -> list[Line]:
    """Return the drawing: the grid if it fits into the room, else the strip.

    Args:
        picture: The map as it was understood.
        width: Cells of a line [cells].
        rows: Lines that there is room for.
    """
    grid = _grid(picture)
    return grid if len(grid) <= rows and all(each.width <= width for each in grid) else _strip(picture, width)


def short_names(names: tuple[str, ...]) -> dict[str, str]:
    """Return each name cut as short as it can be typed: by its first letters, a number whole.

    Example:
        >>> short_names(("left", "lamp", "10"))
        {'left': 'le', 'lamp': 'la', '10': '10'}
    """
    return {name: _short(name, [other for other in names if other != name]) for name in names}


def _short(name: str, others: list[str]) -> str:
    if name.isdigit():
        return name
    cuts = (name[:size] for size in range(1, len(name)))
    return next((cut for cut in cuts if not any(o.lower().startswith(cut.lower()) for o in others)), name)


def _grid(picture: MapPicture) -> list[Line]:
    short = short_names(picture.far)
    first = max(len(row.near) for row in picture.rows)
    head = " ".join([" " * first, *short.values()])
    lines = [line(piece(head, "frame"))]
    for row in picture.rows:
        cells = [_cell(row, far).center(len(short[far])) for far in picture.far]
        lines.append(line(piece(f"{row.near:>{first}} ", "frame"), piece(" ".join(cells), "strong")))
    return lines


def _cell(row: MapRow, far: str) -> str:
    if far not in row.reaches:
        return "."
    return "r" if far in row.in_ohms else "x"


def _strip(picture: MapPicture, width: int) -> list[Line]:
    short = short_names(picture.far)
    said = [f"{row.near}-{'+'.join(short[far] for far in row.reaches) or 'OL'}" for row in picture.rows]
    return wrap([piece(" ".join(said), "strong")], width)
