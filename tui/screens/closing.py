"""The closing screen: what still blocks it by name, what was not measured, and the chain's head once it is closed."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from tui.draw.keyline import Hint, hint
from tui.draw.listed import listed
from tui.draw.pages import Room
from tui.keys import CLOSING, bindings
from tui.lines import Block, Line, block, line, piece, wrap
from tui.screens.page import PageScreen

if TYPE_CHECKING:
    from engine.view.models import ClosingView

DIGITS = 9
HELP = """Everything that was opened has to be finished before a job is closed: a digit takes you to it.
g closes the job. After that only the dated looks can be answered.
Write the head of the log down where nobody can change it: with it, any later change can be seen."""


class ClosingScreen(PageScreen[None]):
    """Shows what stands between the job and its end, and reports what the person pressed."""

    BINDINGS = bindings(CLOSING)
    AREAS = ("closing", "page")

    @dataclass
    class Wished(Message):
        """A command was asked for; ``step`` is where to go, or the number of a dated look."""

        wish: str
        step: str = ""

    def __init__(self, view: "ClosingView", *, demo: bool = False) -> None:
        super().__init__()
        self.view = view
        self._demo = demo
        self._problem = ""

    def show_closing(self, view: "ClosingView") -> None:
        """Show it anew."""
        self.view, self._problem = view, ""
        self.refill()

    def show_refusal(self, sentence: str) -> None:
        """Say why nothing was recorded."""
        self._problem = sentence
        self.refill()

    def place(self, room: Room, page: str) -> list[Line]:
        """Return where the job stands."""
        demo = (piece("[DEMO]", "demo"), piece(" ", "place")) if self._demo else ()
        title = self.view.title
        return wrap([piece(f"{title} - {page}" if page else title, "place")], room.width - 2, demo, hang=0)

    def blocks(self, room: Room) -> list[Block]:
        """Return what blocks it, and what will be said about the job."""
        width, view = room.measure, self.view
        return [
            self._blocks_closing(width),
            listed("Failed, and never measured good again", view.standing, width),
            listed("Not measured", view.not_measured, width),
            listed("Accepted", view.accepted, width),
            listed("Deviations", view.deviations, width),
            self._due(width),
            block("head", self._head(width)),
        ]

    def said(self, room: Room) -> list[Line]:
        """Return why nothing was recorded."""
        return wrap([piece(self._problem, "problem")], room.measure) if self._problem else []

    def about(self, wish: str) -> tuple[str, str]:
        """Return no step: the closing screen shows the whole job."""
        return "", ""

    def hush(self) -> None:
        """Drop the message."""
        self._problem = ""

    def hints(self) -> list[Hint]:
        """Return the keys."""
        turn = (
            [Hint("pagedown", f"read on {self.page + 1}/{self.page_count}")] if self.page + 1 < self.page_count else []
        )
        if self.view.ended:
            look = [Hint("1-9", "answer a look")] if self.view.due else []
            return [*turn, *look, Hint("q", "leave", "closing.done"), Hint("h", "help")]
        first = [Hint("g", "close the job", "closing.close")] if self.view.can_close else [Hint("1-9", "go there")]
        rest = [hint(key) for key in CLOSING[1:] if key.id != "closing.done"]
        return [*turn, *first, *rest, Hint("h", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return HELP

    def take_key(self, key: str) -> bool:
        """Take a digit: go to what blocks, or answer a dated look."""
        if not key.isdigit() or key == "0":
            return False
        at = int(key) - 1
        if self.view.ended:
            return at < len(self.view.due) and self._wish("look", str(at))
        return at < len(self.view.blocks) and self._wish("goto", self.view.blocks[at].step)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """An ended job can only be read and left."""
        if action in {"close_job", "back", "correct", "note", "leave", "stop"}:
            return not self.view.ended
        return not (action == "done_with" and not self.view.ended)

    def action_close_job(self) -> None:
        """Close the job, or say what blocks it."""
        if not self.read_on():
            self._wish("close")

    def action_done_with(self) -> None:
        """Leave an ended job."""
        self._wish("done_with")

    def action_back(self) -> None:
        """Look at the last step."""
        self._wish("last")

    def action_correct(self) -> None:
        """Correct an earlier value."""
        self._wish("correct")

    def action_note(self) -> None:
        """Write a note."""
        self._wish("note")

    def action_leave(self) -> None:
        """Leave the job for now."""
        self._wish("leave")

    def action_stop(self) -> None:
        """End the job unfinished."""
        self._wish("stop")

    def _wish(self, wish: str, step: str = "") -> bool:
        self.post_message(self.Wished(wish, step))
        return True

    def _blocks_closing(self, width: int) -> Block:
        if self.view.ended or not self.view.blocks:
            return block("blocks", ())
        lines = [line(piece("Still to do before it can be closed", "title"))]
        for number, each in enumerate(self.view.blocks[:DIGITS], start=1):
            lines += wrap([piece(each.sentence, "ask")], width, piece(f"  {number} ", "now"), key=str(number))
        if (more := len(self.view.blocks) - DIGITS) > 0:
            lines += wrap([piece(f"and {more} more")], width, piece("    "))
        return block("blocks", lines)

    def _due(self, width: int) -> Block:
        if not self.view.ended:
            return listed("To look at later", self.view.due, width)
        lines = [line(piece("To look at later", "title"))] if self.view.due else []
        for number, each in enumerate(self.view.due, start=1):
            lines += wrap([piece(each)], width, piece(f"  {number} ", "now"), key=str(number))
        return block("due", lines)

    def _head(self, width: int) -> list[Line]:
        said = f"{self.view.events} events are on the disk. Head of the log: "
        return wrap([piece(said), piece(self.view.head, "strong")], width)
