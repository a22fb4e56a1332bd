"""What all screens are: a place line, pages of text, one entry line, what is said about it, and the keys."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Input

from tui.draw.keyline import Hint, key_lines
from tui.draw.pages import Room, paged
from tui.keys import PAGE, bindings
from tui.lines import EMPTY, Block, Line, line, piece, wrap
from tui.widgets.entry import Entry
from tui.widgets.sheet import Sheet

if TYPE_CHECKING:
    from tui.under_pages import UnderPages

Result = TypeVar("Result")
_PROMPT = line(piece(">", "now"))
_ENTRY_COLUMN = 4
SAID_ROWS = 3
"""Rows kept free for what is said about an entry while it is typed."""

LEAST = Room(30, 8)
"""The smallest window that is worked in; below it a page holds no sentence. Source: project rule."""

_FREE = frozenset(
    {"escape", "up", "down", "left", "right", "pageup", "pagedown", "backspace", "delete", "tab", "shift+tab"}
)
"""Keys that may be pressed as fast as one likes."""


class PageScreen(Screen[Result]):
    """A screen of text on pages. Whoever derives from it says what is shown and which keys work."""

    AUTO_FOCUS = ""
    AREAS: ClassVar[tuple[str, ...]] = ("page",)
    """Areas of the key table whose actions this screen has."""
    BINDINGS = bindings(PAGE)
    SHORT: ClassVar[str] = "your entry"
    """What the place line calls a page on which only what is asked for now is left beside what is said of it."""

    def __init__(self) -> None:
        super().__init__()
        self.page = 0
        self.page_count = 1
        self.bar_open = False
        self.read_to_end = False
        self.to_asked = False

    # What is shown: to be said by each screen

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the place line; ``page`` is "2 of 3" on the later pages of a screen that needs several."""
        return [line(piece(page, "place"))]

    def titled(self, title: str, room: Room) -> list[Line]:
        """Return a place line with the demo mark, if the job is a demo."""
        demo = (piece("[DEMO]", "demo"), piece(" ", "place")) if getattr(self.app, "demo", False) else ()
        return wrap([piece(title, "place")], room.width - 2, demo, hang=0)

    def blocks(self, room: Room) -> list[Block]:
        """Return the text."""
        return []

    def short_blocks(self, room: Room) -> list[Block]:
        """Return what stays on a small window while something is typed or said."""
        return []

    def said(self, room: Room) -> list[Line]:
        """Return what is said about the entry: echo, verdict, problem, refusal."""
        return []

    def said_softly(self, room: Room) -> list[Line]:
        """Return what is said only where there is room for it."""
        return []

    def hush(self) -> None:
        """Drop what was said: the person reads on, and a small window has no room for both."""

    def hints(self) -> list[Hint]:
        """Return the keys for the key line."""
        return []

    def wants_entry(self) -> bool:
        """True if there is a line to type on."""
        return False

    def edge(self) -> str:
        """Return the look of the bar along the left side; empty for none."""
        return ""

    def help_text(self) -> str:
        """Return the help of this screen."""
        return ""

    def answers(self) -> list[tuple[str, str]]:
        """Return (digit, words) of what the digits stand for now."""
        return []

    def offers(self, action: str) -> bool:
        """Tell whether the palette offers an action now; pages can be turned only where there are several."""
        if action in {"next_page", "page_before"}:
            return self.page_count > 1
        return action != "more"

    def extras(self, room: Room) -> list[Block]:
        """Return what is shown at the foot only where there is room for it."""
        return []

    # How it is shown

    def compose(self) -> ComposeResult:
        """Lay the sheet over the whole window, and the entry line on top of it."""
        yield Sheet()
        yield Entry(self.changed)

    @property
    def entry(self) -> Entry:
        """The entry line."""
        return self.query_one(Entry)

    def on_mount(self) -> None:
        """Show the first page."""
        self.refill()

    def on_resize(self) -> None:
        """Count the room again; what is typed stays."""
        self.refill()

    def on_screen_resume(self) -> None:
        """Back from another screen: the keys go where they went before."""
        self._aim()

    def refill(self) -> None:
        """Fill the sheets for the room there is."""
        if not self.is_attached or not self.query(Sheet):
            return
        room = Room(*self.app.size)
        if self._too_small:
            self._say_too_small(room)
            return
        said = self.said(room)
        foot = len(self._keys(room))
        place, body = self._fitting(room, room.height - foot - self.wants_entry(), said)
        entry_row = len(place) + len(body)
        prompt = [_PROMPT] if self.wants_entry() else []
        lines = [
            *place,
            *(each._replace(edge=self.edge()) for each in body),
            *prompt,
            *(said or self.said_softly(room)),
        ]
        keys = self._keys(room)[:foot]
        lines = lines[: room.height - len(keys)]
        extras = self._extras(room, room.height - len(keys) - len(lines) - (SAID_ROWS if prompt and not said else 0))
        lines += [EMPTY] * (room.height - len(keys) - len(lines) - len(extras)) + extras
        self.query_one(Sheet).show([*lines, *(_bar(each) for each in keys)])
        self._put_entry(room, entry_row)
        self._aim()

    @property
    def _too_small(self) -> bool:
        return self.app.size.width < LEAST.width or self.app.size.height < LEAST.height

    def _say_too_small(self, room: Room) -> None:
        """Say that the window is too small: whoever cannot read a step must not answer it."""
        text = f"{room.width} x {room.height} is too small: make the window 40 x 12. Ctrl+C leaves."
        self.entry.display = False
        self.set_focus(None)
        self.query_one(Sheet).show(wrap([piece(text, "problem")], room.width - 1)[: room.height])

    def _extras(self, room: Room, rows: int) -> list[Line]:
        """Return what stands at the foot as far as there is room for it, block by block, a blank line above each."""
        lines: list[Line] = []
        for each in self.extras(room) if self.page_count == 1 else ():
            more = [*([EMPTY] if lines else []), *each.lines]
            if each.lines and len(lines) + len(more) < rows:
                lines += more
        return lines

    def entry_width(self, room: Room) -> int:
        """Return the width of the entry line [cells]."""
        return min(room.measure, room.width - _ENTRY_COLUMN - 2)

    def _put_entry(self, room: Room, row: int) -> None:
        entry = self.entry
        entry.display = self.wants_entry()
        if entry.display:
            entry.styles.offset = (_ENTRY_COLUMN, row)
            entry.styles.width = self.entry_width(room)

    def action_more(self) -> None:
        """Open the line of commands, or close it."""
        self.bar_open = not self.bar_open
        self.refill()

    def action_next_page(self) -> None:
        """Show the next page."""
        self.hush()
        self.page = min(self.page + 1, self.page_count - 1)
        self.refill()

    def action_page_before(self) -> None:
        """Show the page before."""
        self.hush()
        self.page = max(self.page - 1, 0)
        self.refill()

    def read_on(self) -> bool:
        """Turn the page if there is one that was not read yet; True if it was turned."""
        if self.read_to_end:
            return False
        self.action_next_page()
        return True

    async def action_help(self) -> None:
        """Explain this screen."""
        self.under.explain(self.help_text(), self.hints())

    def on_key(self, event: events.Key) -> None:
        """Let a double press go by, and take the keys that this screen reads itself."""
        if self._too_small:
            self._swallow(event)
            return
        again = event.key not in _FREE and self.under.repeats.too_soon(event.key)
        if (again and not self._ends_text(event.key)) or self.take_key(event.character or event.key):
            self._swallow(event)

    def _ends_text(self, key: str) -> bool:
        """True if a key ends what was typed: a bounce of the Enter before would find the entry line empty."""
        return key == "enter" and self.wants_entry() and bool(self.entry.value)

    @property
    def under(self) -> "UnderPages":
        """The app. It notes presses for all screens: a key that opened one must not be its first answer too."""
        return cast("UnderPages", self.app)

    def take_key(self, key: str) -> bool:
        """Take a key that is no command (a digit of a list); True if it was taken."""
        return False

    @on(Input.Submitted)
    def stop_submitted(self, event: Input.Submitted) -> None:
        """Hand an entry to the screen under its own name."""
        event.stop()
        self.submitted(event.value)

    @on(Input.Changed)
    def stop_changed(self, event: Input.Changed) -> None:
        """A change was told already, at once."""
        event.stop()

    def submitted(self, text: str) -> None:
        """Enter was pressed on the entry line."""

    def changed(self, text: str) -> None:
        """The text on the entry line is another one."""

    # How text is fitted

    def _fitting(self, room: Room, rows: int, said: list[Line]) -> tuple[list[Line], list[Line]]:
        place = [_bar(each) for each in self.place(room, "")]
        later = len(self.place(room, "page 2/3"))
        pages = self._pages(room, rows - len(place), rows - later, said)
        if len(pages) == 1 and len(place) + len(pages[0]) + max(len(said), SAID_ROWS) < rows:
            place = [*place, EMPTY]
        if said and len(pages) > 1:
            return self._short(room, rows, said)
        self.page_count = len(pages)
        if self.to_asked:
            self.page = next((at for at, page in enumerate(pages) if any(_asks(each) for each in page)), self.page)
            self.to_asked = False
        self.page = min(self.page, self.page_count - 1)
        self.read_to_end = self.read_to_end or self.page == self.page_count - 1
        if self.page:
            place = [_bar(each) for each in self.place(room, f"page {self.page + 1}/{self.page_count}")]
            return place, pages[self.page]

        return place, pages[0]

    def _pages(self, room: Room, rows: int, later_rows: int, said: list[Line]) -> list[list[Line]]:
        blocks = self.blocks(room)
        kept = max(SAID_ROWS, len(said)) if self.wants_entry() else len(said)
        airy = paged(blocks, rows - kept)
        if len(airy) == 1:
            return airy
        tight = paged(blocks, rows - len(said))
        return tight if len(tight) == 1 else paged(blocks, rows, later_rows)

    def _short(self, room: Room, rows: int, said: list[Line]) -> tuple[list[Line], list[Line]]:
        place = [_bar(each) for each in self.place(room, self.SHORT)]
        body = [one for each in self.short_blocks(room) for one in each.lines]
        return place, body[: max(1, rows - len(place) - len(said))]

    def _keys(self, room: Room) -> list[Line]:
        own: Mapping[str, str] = getattr(self.app, "own_keys", {})
        return key_lines(self.hints(), room.width - 2, rows=4 if self.bar_open else 1, own=own)

    def _aim(self) -> None:
        wanted = self.entry if self.wants_entry() and not self.bar_open else None
        if self.focused is not wanted:
            self.set_focus(wanted, scroll_visible=False)

    def _swallow(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()


def _bar(one: Line) -> Line:
    """Return a line of the bars at the top and the foot."""
    return one._replace(fill="place", margin=1)


def _asks(one: Line) -> bool:
    return one.text.startswith("> ")


def say(text: str, room: Room, look: str = "problem") -> list[Line]:
    """Return a sentence for under the entry line."""
    return wrap([piece(as_sentence(text), look)], room.measure)


def as_sentence(text: str) -> str:
    """Return a message as a whole sentence: a capital at the front, a stop at the end. A unit stays as it is written.

    Example:
        >>> as_sentence("still to give: volts"), as_sentence("m is a length.")
        ('Still to give: volts.', 'm is a length.')
    """
    text = text.strip()
    if not text:
        return text
    first = text.split(maxsplit=1)[0]
    begin = text if len(first) < 3 and first not in _SHORT else text[0].upper() + text[1:]
    return begin + ("" if text[-1] in ".?!" else ".")


_SHORT = {"a", "an", "at", "by", "if", "is", "it", "no", "of", "on", "or", "to"}
"""Short words that are no units: they get their capital."""
