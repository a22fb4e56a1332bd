"""What a page needs of the app under it, so that no page has to know the app."""

from collections.abc import Sequence
from typing import Protocol

from tui.draw.keyline import Hint
from tui.repeats import Repeats


class UnderPages(Protocol):
    """An app that notes presses for all its pages, and shows the help of any of them."""

    repeats: Repeats

    def explain(self, text: str, hints: Sequence[Hint]) -> None:
        """Show the help of a page: its text, then its keys."""
