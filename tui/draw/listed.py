"""A heading with its texts under it, set in."""

from collections.abc import Sequence

from tui.lines import Block, block, piece, wrap


def listed(name: str, texts: Sequence[str], width: int, look: str = "plain") -> Block:
    """Return a heading with its texts; nothing where there are none."""
    lines = [one for text in texts for one in wrap([piece(text, look)], width, piece("  "))]
    return block(name, [*wrap([piece(name, "title")], width), *lines] if lines else ())
