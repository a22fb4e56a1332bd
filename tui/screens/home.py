"""The first screen: sessions to go on with, procedures to begin, ended sessions to read. One digit each."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.keys import HOME, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen

if TYPE_CHECKING:
    from engine.view.models import HomeView

DIGITS = 9
HELP = """Press the digit of what you want to do.
Sessions that are open come first; then the procedures; then sessions that have ended, to be read.
Nothing has to be set up. What you type in a session is on the disk at once.
To read the screen from further away, make your terminal's letters larger: 40 columns are enough."""


class HomeScreen(PageScreen[None]):
    """Shows what can be done and reports what was picked."""

    BINDINGS = bindings(HOME)
    AREAS = ("home", "page")

    @dataclass
    class Resumed(Message):
        """A session was picked, open or ended."""

        path: str

    @dataclass
    class Begun(Message):
        """A procedure was picked."""

        procedure: str

    def __init__(self, view: "HomeView") -> None:
        super().__init__()
        self.view = view
        self._from = 0
        self._problem = ""

    def show_home(self, view: "HomeView") -> None:
        """Show it anew."""
        self.view, self._from = view, 0
        self.refill()

    def show_problem(self, sentence: str) -> None:
        """Say why something did not work."""
        self._problem = sentence
        self.refill()

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the program's name and the folder."""
        title = f"Tugtest - {page}" if page else "Tugtest - choose by a digit"
        return wrap([piece(title, "place")], room.width - 2)

    def blocks(self, room: Room) -> list[Block]:
        """Return the lists."""
        return [
            *self._lists(room.measure),
            block("problems", [x for p in self.view.problems[:3] for x in wrap([piece(p)], room.measure, piece("! "))]),
            block("older", wrap([piece(self.view.older, "hint")], room.measure) if self.view.older else []),
            block("folder", wrap([piece(f"Sessions are kept in {self.view.folder}", "hint")], room.measure)),
        ]

    def said(self, room: Room) -> list[Line]:
        """Return why something did not work."""
        return wrap([piece(self._problem, "problem")], room.measure) if self._problem else []

    def hints(self) -> list[Hint]:
        """Return the keys."""
        turn = [Hint("0", "others")] if len(self._items()) > DIGITS else []
        page = [Hint("pagedown", "more")] if self.page + 1 < self.page_count else []
        count = min(DIGITS, len(self._items()) - self._from)
        return [Hint(f"1-{count}", "choose"), *turn, *page, Hint("q", "quit", "home.quit"), Hint("h", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return HELP

    def answers(self) -> list[tuple[str, str]]:
        """Return what the digits stand for."""
        shown = self._items()[self._from : self._from + DIGITS]
        return [(str(number), f"{kind} {text}") for number, (kind, text, _) in enumerate(shown, start=1)]

    def take_key(self, key: str) -> bool:
        """Take a digit."""
        if key == "0" and len(self._items()) > DIGITS:
            self._from = (self._from + DIGITS) if self._from + DIGITS < len(self._items()) else 0
            self.refill()
            return True
        at = self._from + int(key) - 1 if key.isdigit() and key != "0" else -1
        if not self._from <= at < len(self._items()):
            return False
        self._problem = ""
        self.post_message(self._items()[at][2])
        return True

    def _items(self) -> list[tuple[str, str, Message]]:
        view = self.view
        going = [("Go on with", each.sentence, self.Resumed(each.path)) for each in view.open]
        begin = [("Begin", f"{p.title}: {p.summary}", self.Begun(p.id)) for p in view.procedures]
        ended = [("Read", each.sentence, self.Resumed(each.path)) for each in view.ended]
        return [*going, *begin, *ended]

    def _lists(self, width: int) -> list[Block]:
        blocks: list[Block] = []
        shown = self._items()[self._from : self._from + DIGITS]
        for name in dict.fromkeys(kind for kind, _, _ in shown):
            lines = wrap([piece(name, "title")], width)
            for number, (kind, text, _) in enumerate(shown, start=1):
                if kind == name:
                    lines += wrap([piece(text, "ask")], width, piece(f"  {number} ", "now"), key=str(number))
            blocks.append(block(name, lines))
        return blocks
