"""Questions answered by typing, one after another on the same line: reasons, initials, names, notes."""

from collections.abc import Callable
from dataclasses import dataclass

from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.keys import ASK, bindings
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen, say


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to type. ``least`` is the fewest characters it needs; 0 makes it one that may be left empty.

    ``check`` tells what is wrong with a text before the next thing is asked, in a sentence; empty if nothing is.
    """

    ask: str
    least: int = 1
    hint: str = ""
    start: str = ""
    check: Callable[[str], str] | None = None


class AskScreen(PageScreen[tuple[str, ...] | None]):
    """Asks its fields one after another and hands back the texts; None if it was left by Escape."""

    BINDINGS = bindings(ASK[1:])
    AREAS = ("ask", "page")

    def __init__(self, title: str, text: str, fields: tuple[Field, ...], help_text: str = "") -> None:
        super().__init__()
        self._title, self._text, self._fields, self._help = title, text, fields, help_text
        self._given: list[str] = []
        self._problem = ""

    def on_mount(self) -> None:
        """Begin with the first field."""
        super().on_mount()
        self.entry.start(self._fields[0].start)

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the title."""
        return self.titled(f"{self._title} - {page}" if page else self._title, room)

    def blocks(self, room: Room) -> list[Block]:
        """Return the text, what was given, and what is asked now."""
        width = room.measure
        text = wrap([piece(self._text, "action")], width) if self._text else []
        return [block("text", text), block("given", self._answers(width)), *self.short_blocks(room)]

    def short_blocks(self, room: Room) -> list[Block]:
        """Return what is asked now."""
        field = self._fields[min(len(self._given), len(self._fields) - 1)]
        lines = wrap([piece(field.ask, "now")], room.measure, piece("> ", "now"))
        hint = wrap([piece(field.hint, "hint")], room.measure, piece("  ")) if field.hint else []
        return [block("asked", lines + hint)]

    def said(self, room: Room) -> list[Line]:
        """Return what is wrong with the answer."""
        return say(self._problem, room) if self._problem else []

    def wants_entry(self) -> bool:
        """There is always something to type."""
        return True

    def hints(self) -> list[Hint]:
        """Return the keys."""
        return [Hint("enter", "take it"), Hint("escape", "go back"), Hint("f1", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return self._help or "Type the answer, then Enter. Escape goes back and changes nothing."

    def submitted(self, text: str) -> None:
        """Take an answer, and ask the next one or hand all back."""
        field = self._fields[len(self._given)]
        if not text.strip() and self.read_on():
            return
        if problem := self._problem_of(field, text.strip()):
            self._problem = problem
            self.refill()
            return
        self._given.append(text.strip())
        self._problem = ""
        if len(self._given) == len(self._fields):
            self.dismiss(tuple(self._given))
            return
        self.entry.start(self._fields[len(self._given)].start)
        self.refill()

    def changed(self, text: str) -> None:
        """A change takes the problem away, and brings what is asked into sight."""
        if self._problem or self.page_count > 1:
            self._problem, self.to_asked = "", True
            self.refill()

    def action_cancel(self) -> None:
        """Go back."""
        self.dismiss(None)

    def _problem_of(self, field: Field, text: str) -> str:
        if len(text) < field.least:
            return _too_short(field)
        return field.check(text) if field.check else ""

    def _answers(self, width: int) -> list[Line]:
        pairs = zip(self._fields, self._given, strict=False)
        return [
            one
            for field, text in pairs
            for one in wrap([piece(text, "value")], width, piece(f"+ {field.ask}: "), hang=2)
        ]


def _too_short(field: Field) -> str:
    return "Something must be typed here." if field.least <= 1 else f"Say it in {field.least} characters or more."
