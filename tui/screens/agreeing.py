"""What would follow, said before it happens: g does it, Escape goes back. Hands back True or False."""

from engine.view.models import Way
from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.draw.way import way_lines
from tui.keys import ASK, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen


class AgreeScreen(PageScreen[bool]):
    """Says what a command would do, and asks."""

    BINDINGS = bindings(ASK)
    AREAS = ("ask", "page")

    def __init__(self, title: str, text: str, points: tuple[str | Way, ...] = (), word: str = "do it") -> None:
        super().__init__()
        self._title, self._text, self._points, self._word = title, text, points, word

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the title."""
        return self.titled(f"{self._title} - {page}" if page else self._title, room)

    def blocks(self, room: Room) -> list[Block]:
        """Return what would follow."""
        text = wrap([piece(self._text, "action")], room.measure) if self._text else []
        return [block("text", text), *(block("point", _point(each, room.measure)) for each in self._points)]

    def hints(self) -> list[Hint]:
        """Return the keys."""
        if self.page + 1 < self.page_count:
            return [Hint("pagedown", "read on"), Hint("escape", "go back")]
        return [Hint("g", self._word, "ask.agree"), Hint("escape", "go back"), Hint("f1", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return "Nothing has happened yet. g does what is said here, Escape goes back."

    def action_agree(self) -> None:
        """Do it, once it was read to its end."""
        if not self.read_on():
            self.dismiss(result=True)

    def action_cancel(self) -> None:
        """Go back."""
        self.dismiss(result=False)


def _point(point: str | Way, width: int) -> list[Line]:
    return wrap([piece(point)], width, piece("- ")) if isinstance(point, str) else way_lines(point, width)
