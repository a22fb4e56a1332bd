"""After a break: the note to oneself, what is live and loose, the last entries, what expired, what comes next."""

from typing import TYPE_CHECKING

from tui.draw.keyline import Hint, hint
from tui.draw.listed import listed
from tui.draw.pages import Room
from tui.keys import RETURN, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen

if TYPE_CHECKING:
    from engine.view.models import ReturnView

HELP = """You were away. Read how things stand, then look at the last entries on the boat itself.
What no longer holds has to be proved again; the program takes you there.
g goes on. o says that somebody else goes on: what hands are still to go on is then proved dead anew."""


class ReturnScreen(PageScreen[str]):
    """Shows how things stood and hands back ``on``, ``person`` or ``quit``."""

    BINDINGS = bindings(RETURN)
    AREAS = ("return", "page")

    def __init__(self, view: "ReturnView", *, demo: bool = False) -> None:
        super().__init__()
        self.view = view
        self._demo = demo

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the job and the time away."""
        demo = (piece("[DEMO]", "demo"), piece(" ", "place")) if self._demo else ()
        text = f"{self.view.title} - {page or self.view.away}"
        return wrap([piece(text, "place")], room.width - 2, demo, hang=0)

    def blocks(self, room: Room) -> list[Block]:
        """Return how things stand, the most pressing first."""
        width, view = room.measure, self.view
        look = "Look at the last two of these on the boat before you go on." if view.asks_to_look else ""
        return [
            listed("How it was left", view.physical, width, look="strong"),
            listed("Also open on this boat", view.beside, width, look="strong"),
            block("line", wrap([piece(view.line, "action")], width, piece("You wrote: ")) if view.line else ()),
            listed("Recorded last", view.last, width),
            block("look", wrap([piece(look, "problem")], width) if look else ()),
            listed("To prove again", view.expired, width, look="problem"),
            listed("Left to do", view.left_to_do, width),
            block("next", wrap([piece(view.next_step, "action")], width)),
        ]

    def hints(self) -> list[Hint]:
        """Return the keys."""
        read, go_on, *others = RETURN
        first = hint(go_on) if self.read_to_end else hint(read, f"read on {self.page + 1}/{self.page_count}")
        return [first, *(hint(key) for key in others), Hint("h", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return HELP

    def action_go_on(self) -> None:
        """Go on, once all of it was on the screen."""
        if not self.read_on():
            self.dismiss("on")

    def action_hand_over(self) -> None:
        """Somebody else goes on."""
        self.dismiss("person")

    def action_quit_job(self) -> None:
        """Leave the program."""
        self.dismiss("quit")
