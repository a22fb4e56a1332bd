"""Several steps that were done in one go, confirmed one by one: a technician's screen. It reports which was picked."""

from dataclasses import dataclass

from textual.message import Message

from engine.view.models import PauseItem, PauseView
from tui.draw.keyline import Hint, hint
from tui.draw.pages import Room
from tui.draw.pause import pause_blocks, pause_place
from tui.keys import PAUSE, STEP, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import say
from tui.screens.wishing import WishScreen

HELP = """Steps that may be done in one go, from the first to the last. Do them, then come here.
A digit confirms the step beside it. A step that asks for values opens, and is read and ended as always.
There is no key for all of them: look at each, then press its digit.
Hold points, warnings and cuts are never in a list: they stand alone, and are read first.
Everything that is said to be recorded is on the disk."""
_FIRST = frozenset({"done", "goto"})


class PauseScreen(WishScreen):
    """Shows the steps of a pause and reports the one that a digit stands for."""

    BINDINGS = bindings(PAUSE)
    AREAS = ("step", "page")
    SHORT = ""

    @dataclass
    class Picked(Message):
        """The digit of a step was pressed: it is to be confirmed, or opened."""

        item: PauseItem

    def __init__(self, view: PauseView, said: str = "") -> None:
        super().__init__()
        self.view = view
        self._said = said
        self._message = ""
        self.goto = ""
        self.reported = False
        self.to_asked = bool(view.confirmed)

    def show_pause(self, view: PauseView, said: str = "") -> None:
        """Show a pause: the same with what is confirmed by now, or another one from its first page."""
        same = view.items[0].step == self.view.items[0].step
        if not same:
            self.page, self.read_to_end = 0, False
        self.view, self._said, self._message, self.goto = view, said, "", ""
        self.bar_open = self.reported = False
        self.to_asked = same
        self.refill()

    def show_problem(self, sentence: str) -> None:
        """Say what is wrong with something else than these steps."""
        self.show_refusal(sentence)

    def show_refusal(self, sentence: str, step: str = "") -> None:
        """Say why nothing was recorded; one key goes to the step that is named."""
        self._message, self.goto, self._said, self.reported = sentence, step, "", False
        self.refill()

    # What is shown

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the place line."""
        return pause_place(self.view, room, page)

    def blocks(self, room: Room) -> list[Block]:
        """Return the steps."""
        return pause_blocks(self.view, room)

    def extras(self, room: Room) -> list[Block]:
        """Return what is left to do, by name."""
        left = [one for says in self.view.left_to_do for one in wrap([piece(says)], room.measure, piece("  "))]
        return [block("left", [*wrap([piece("Left to do", "title")], room.measure), *left])] if left else []

    def short_blocks(self, room: Room) -> list[Block]:
        """Return the steps on a small window too, as far as they fit."""
        return self.blocks(room)

    def said(self, room: Room) -> list[Line]:
        """Return why nothing was recorded."""
        return say(self._message, room) if self._message else []

    def said_softly(self, room: Room) -> list[Line]:
        """Return what was recorded, for where there is room."""
        return say(self._said, room, "pass") if self._said else []

    def help_text(self) -> str:
        """Return the help of a pause."""
        return HELP

    def hush(self) -> None:
        """Drop the message."""
        self._message = ""

    def hints(self) -> list[Hint]:
        """Return the keys that work now, the usual one first."""
        rest = [hint(key) for key in PAUSE if key.action not in _FIRST and self.check_action(key.action, ())]
        if self.bar_open:
            return [*rest, Hint("escape", "go on")]
        goto = [Hint("t", "take me there", "step.goto")] if self.goto else []
        return [*self._usual(), *goto, *rest, Hint("h", "help")]

    def answers(self) -> list[tuple[str, str]]:
        """Return the steps that are not confirmed yet."""
        return [(str(n), item.title) for n, item in enumerate(self.view.items, start=1) if not item.done]

    def offers(self, action: str) -> bool:
        """Enter is offered where it goes on."""
        return self.view.next is None if action == "done" else super().offers(action)

    # Keys

    def about(self, wish: str) -> tuple[str, str]:
        """Return the step that a command is about: the one named, the first, the last, or the one that comes next."""
        items, coming = self.view.items, self.view.next
        steps = {"goto": self.goto, "back": items[0].step, "correct": items[-1].step, "forward": items[-1].step}
        return steps.get(wish, (coming or items[-1]).step), ""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Tell whether a command can work now: those of one value or verdict wait until its step is opened."""
        if action not in {key.action for key in STEP}:
            return True
        can = {"goto": bool(self.goto), "back": bool(self.view.previous)}
        return action in {key.action for key in PAUSE} and can.get(action, True)

    def take_key(self, key: str) -> bool:
        """Take the digit of a step."""
        if self.bar_open or not (key.isdigit() and 0 < int(key) <= len(self.view.items)):
            return False
        if not self.read_to_end:
            self.show_refusal("Read on first: Enter shows the rest of the list.")
        elif not self.reported:
            self.reported = True
            self.post_message(self.Picked(self.view.items[int(key) - 1]))
        return True

    def action_done(self) -> None:
        """Enter or Space: read on, or go on once all are confirmed. It confirms nothing."""
        if self.read_on():
            return
        if self.view.next is None:
            self.wish("forward")
        else:
            self.show_refusal("Each step has its own digit. Look at it, then press the digit.")

    def _usual(self) -> list[Hint]:
        if not self.read_to_end:
            return [Hint("enter", f"read on {self.page + 1}/{self.page_count}")]
        if self.view.next is None:
            return [Hint("enter", "forward", "step.done")]
        turn = [Hint("pagedown", "more")] if self.page + 1 < self.page_count else []
        return [Hint(f"1-{len(self.view.items)}", "confirm or open"), *turn]
