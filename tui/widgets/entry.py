"""The entry line: one line of text that keeps what was typed whatever happens around it."""

from textual.widgets import Input

LONGEST = 400
"""Letters an entry takes; readings are far shorter, notes may be this long."""


class Entry(Input):
    """One line to type on. Nothing is selected when it gets the focus, so that no key wipes what was typed."""

    def __init__(self) -> None:
        super().__init__(id="entry", compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def start(self, text: str = "") -> None:
        """Begin a new entry, without reporting a change."""
        with self.prevent(Input.Changed):
            self.value = text
            self.cursor_position = len(text)
