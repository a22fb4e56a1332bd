"""Text for the plain face: made harmless, wrapped at 66 characters, set in as an item, listed under a heading."""

from collections.abc import Iterable

from tui.draw.pages import Room
from tui.inert import one_line
from tui.lines import Block, piece, wrap

ROOM = Room(80, 24)
"""Lines are wrapped as at 80 columns: 66 characters."""


def wrapped(text: str, hang: int = 0) -> list[str]:
    """Return a text made harmless and wrapped; later lines are set in by ``hang`` cells."""
    return [line.text.rstrip() for line in wrap([piece(one_line(text))], ROOM.measure, hang=hang)]


def item(text: str) -> list[str]:
    """Return a text as an item of a list: set in by two cells."""
    return [line.text.rstrip() for line in wrap([piece(one_line(text))], ROOM.measure, piece("  "))]


def listed(name: str, items: Iterable[str]) -> list[str]:
    """Return a heading with its items, or nothing."""
    found = [line for each in items for line in item(each)]
    return [*wrapped(f"{name}:"), *found] if found else []


def texts(blocks: Iterable[Block]) -> list[str]:
    """Return the lines of blocks, without their looks."""
    return [line.text.rstrip() for block in blocks for line in block.lines]
