"""The table of logs drawn line by line: columns for the room there is, numbers to the right, a word for every state."""

from collections.abc import Sequence

from rich.cells import cell_len, chop_cells

from engine.view.review import COLUMNS, ReviewLine
from tui.lines import Line, Piece, piece

_WIDTHS = {"state": 9, "holds": 5, "fail": 4, "undec.": 6, "differ": 6, "missing": 7, "left": 4, "mark": 5,
           "person": 11, "asset": 14, "min": 5}  # fmt: skip
_NAMES = ("log", "person", "asset", "state")
_WIDE = COLUMNS
_USUAL = ("log", "person", "state", "holds", "fail", "undec.", "differ", "left", "mark")
_NARROW = ("log", "state", "mark")


def columns_for(width: int) -> tuple[str, ...]:
    """Return the columns that a width has room for, the log's own name first."""
    return _WIDE if width >= 120 else _USUAL if width >= 70 else _NARROW


def head_line(width: int) -> Line:
    """Return the heads of the columns."""
    return Line((piece("  " + _row(COLUMNS, width), "title"),), margin=1)


def row_line(line: ReviewLine, width: int, *, here: bool) -> Line:
    """Return one log; the one that the keys work on has a mark before it and stands out."""
    look = "now" if here else _look(line)
    mark = piece("> " if here else "+ " if line.marked else "  ", look)
    return Line((mark, Piece(piece(_row(line.cells, width)).text, look)), fill="place" if here else "plain", margin=1)


def _look(line: ReviewLine) -> str:
    return "plain" if line.clean else "problem"


def _row(cells: Sequence[str], width: int) -> str:
    shown = columns_for(width)
    taken = sum(_WIDTHS[name] + 1 for name in shown if name != "log")
    texts = [
        _fit(_cell(cells, name), width - 4 - taken if name == "log" else _WIDTHS[name], left=name in _NAMES)
        for name in shown
    ]
    return " ".join(texts)


def _cell(cells: Sequence[str], name: str) -> str:
    cell = cells[COLUMNS.index(name)]
    return cell.removesuffix(".toml") if name == "log" else cell


def _fit(text: str, width: int, *, left: bool) -> str:
    text = piece(text).text
    if cell_len(text) > width:
        text = chop_cells(text, max(1, width - 1))[0] + "~"
    room = " " * max(0, width - cell_len(text))
    return text + room if left else room + text
