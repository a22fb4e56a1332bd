"""The caret under the place of a fault in what was typed; of a text longer than its line, the part around it."""

from tui.lines import Line, line, piece


def excerpt(text: str, column: int, width: int) -> tuple[str, int]:
    """Return the part of a text around a place that fits into a width, and the place in that part.

    Example:
        >>> excerpt("1-1 2-2 3-3 4-9", 14, 9)
        ('2 3-3 4-9', 8)
    """
    start = max(0, min(column - width // 2, len(text) - width))
    return text[start : start + width], column - start


def caret_lines(text: str, column: int | None, width: int) -> list[Line]:
    """Return the caret under its place in the entry line; with the part around it, if the entry line is too short.

    Args:
        text: What stands on the entry line.
        column: The place, from 0; None if there is none.
        width: Cells of the entry line, its cursor with them [cells].
    """
    if column is None:
        return []
    if len(text) < width:
        return [line(piece(" " * (column + 2) + "^", "problem"))]
    part, at = excerpt(text, column, width - 1)
    return [line(piece(f"  {part}", "hint")), line(piece(" " * (at + 2) + "^", "problem"))]
