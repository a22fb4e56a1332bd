"""The way that a command leads through, step by step: its number, its title, and what it does to the work."""

from engine.view.models import Way
from tui.lines import Line, line, piece, wrap

_DOES = 13
"""Cells of the longest word for what a step does, with a space before it."""


def way_lines(way: Way, width: int) -> list[Line]:
    """Return the heading, and a line for each step; what it does stands at the right."""
    lines = wrap([piece(way.says, "title")], width)
    for step in way.steps:
        said = wrap([piece(step.title)], width - _DOES, piece(f"{step.number:>4}  ", "now"), hang=6)
        gap = " " * (width - said[0].width - len(step.does))
        lines += [line(*said[0].pieces, piece(gap), piece(step.does, "strong")) if step.does else said[0], *said[1:]]
    return lines
