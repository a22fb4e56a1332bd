"""The entry line: one line of text that keeps what was typed whatever happens around it."""

from collections.abc import Callable

from textual.widgets import Input

LONGEST = 400
"""Letters an entry takes; readings are far shorter, notes may be this long."""


class Entry(Input):
    """One line to type on. Nothing is selected when it gets the focus, so that no key wipes what was typed."""

    def __init__(self, on_change: Callable[[str], None]) -> None:
        self.on_change = on_change
        self._starting = False
        super().__init__(id="entry", compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def on_mount(self) -> None:
        """Tell the screen of a change at once, so that what follows from it is painted together with it."""
        self.watch(self, "value", self._tell, init=False)

    def _tell(self, text: str) -> None:
        if not self._starting:
            self.on_change(text)

    def start(self, text: str = "") -> None:
        """Begin a new entry, without reporting a change."""
        self._starting = True
        with self.prevent(Input.Changed):
            self.value = text
            self.cursor_position = len(text)
        self._starting = False
