"""What stands on the screen while something takes its time: what is being done, and the key that stops it."""

from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.lines import Block, Line, block, line, piece, wrap
from tui.screens.page import PageScreen


class WaitScreen(PageScreen[None]):
    """Says what is being done. It is the first thing painted, so it asks nothing of the engine."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the program's name."""
        return [line(piece("Tugtest", "place"))]

    def blocks(self, room: Room) -> list[Block]:
        """Return what is being done."""
        return [block("text", wrap([piece(self._text, "action")], room.measure))]

    def hints(self) -> list[Hint]:
        """Return the keys."""
        return [Hint("ctrl+c", "quit")]

    def help_text(self) -> str:
        """Return the help."""
        return "Ctrl+C stops it; nothing is lost."

    def tell(self, text: str) -> None:
        """Say something else, such as why it did not work."""
        self._text = text
        self.refill()
