"""A list to pick from by one digit: a reason, an entry to correct, what a text meant. Hands back the index."""

from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.draw.step_parts import choice_lines
from tui.keys import ASK, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen


class PickScreen(PageScreen[int | None]):
    """Shows up to nine choices and hands back which one was picked, from 0; None if none was."""

    BINDINGS = bindings(ASK[1:])
    AREAS = ("ask", "page")

    def __init__(self, title: str, text: str, choices: tuple[str, ...]) -> None:
        super().__init__()
        self._title, self._text, self._choices = title, text, choices[:9]

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the title."""
        return self.titled(f"{self._title} - {page}" if page else self._title, room)

    def blocks(self, room: Room) -> list[Block]:
        """Return the question and the choices."""
        width = room.measure
        lines = choice_lines(self._choices, width, letters=False)
        return [block("text", wrap([piece(self._text, "action")], width)), block("choices", lines)]

    def hints(self) -> list[Hint]:
        """Return the keys."""
        turn = [Hint("pagedown", "more")] if self.page + 1 < self.page_count else []
        return [Hint(f"1-{len(self._choices)}", "pick"), *turn, Hint("escape", "go back"), Hint("f1", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return "Press the digit of your choice. Escape goes back and changes nothing."

    def answers(self) -> list[tuple[str, str]]:
        """Return the choices."""
        return [(str(number), words) for number, words in enumerate(self._choices, start=1)]

    def take_key(self, key: str) -> bool:
        """Take a digit."""
        if not (key.isdigit() and 0 < int(key) <= len(self._choices)):
            return False
        self.dismiss(int(key) - 1)
        return True

    def action_cancel(self) -> None:
        """Go back."""
        self.dismiss(None)
