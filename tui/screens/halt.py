"""STOP, as the whole screen: what is wrong, what the hands do now, one key to answer."""

from engine.view.models import HaltView
from tui.draw.keyline import Hint, hint
from tui.draw.pages import Room
from tui.keys import HALT, bindings
from tui.lines import Block, Line, block, line, piece, wrap
from tui.screens.page import PageScreen


class HaltScreen(PageScreen[bool]):
    """Says STOP. Hands back True once the hands are away, False if it is looked away from."""

    BINDINGS = bindings(HALT)
    AREAS = ("halt", "page")

    def __init__(self, halt: HaltView) -> None:
        super().__init__()
        self._halt = halt

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the bar that says STOP; the word says it without any colour."""
        return [line(piece(" STOP ".center(room.width - room.margin, "#"), "danger"))]

    def blocks(self, room: Room) -> list[Block]:
        """Return what is wrong, then what the hands do, numbered."""
        hands = [
            one
            for number, each in enumerate(self._halt.hands, start=1)
            for one in wrap([piece(each, "action")], room.measure, piece(f"{number}  ", "strong"), hang=3)
        ]
        return [block("title", wrap([piece(self._halt.sentence, "title")], room.measure)), block("hands", hands)]

    def hints(self) -> list[Hint]:
        """Return the key."""
        return [hint(HALT[0]), Hint("f1", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return "A value was typed that can hurt. Take your hands away, then press a: nothing else is asked before."

    def action_hands_away(self) -> None:
        """Answer it, once it was read to its end."""
        if not self.read_on():
            self.dismiss(result=True)
