"""The table of many logs: one line each, worst first; only what is on the screen is drawn, however many there are."""

from collections.abc import Mapping
from dataclasses import dataclass

from textual.message import Message

from engine.view.review import ReviewLine, ReviewView
from tui.draw.keyline import Hint, hint, key_lines
from tui.draw.pages import Room
from tui.draw.review import head_line, row_line
from tui.keys import PAGE, REVIEW, bindings
from tui.lines import EMPTY, Line, piece, wrap
from tui.screens.page import PageScreen, say
from tui.widgets.sheet import Sheet

HELP = """Each line is one log. Those that need a look stand first; clean ones can be accepted all at once.
"holds" are hold points opened on evidence, of all; "differ" counts what comes out otherwise when it is computed again.
Marks and notes go to a file of their own beside the logs. No log is ever changed."""

TALL = 20
"""Rows of a screen from which two of them may be keys."""

DETAIL_ROWS = 3
"""Rows under the table that say what to look at first in the log that the keys work on."""

_MOVES = {"up": -1, "down": 1}
_FAR = {"home": -1, "end": 1}
_PAGES = {"pageup": -1, "pagedown": 1, "space": 1, " ": 1}


class ReviewScreen(PageScreen[None], inherit_bindings=False):
    """Shows the table and reports what was wished for, and for which log."""

    BINDINGS = bindings((*REVIEW, *PAGE[:2]))
    AREAS = ("review", "page")

    @dataclass
    class Wished(Message):
        """Something was asked for. ``file`` is the log that the keys work on; empty if the table is."""

        wish: str
        file: str

    def __init__(self, view: ReviewView, told: str) -> None:
        super().__init__()
        self.view = view
        self._told = told
        self._said = ""
        self._at = 0
        self._top = 0
        self._rows = 1

    def show_review(self, view: ReviewView, told: str, said: str = "") -> None:
        """Show another table; the keys stay on the same log where it is still there."""
        before = self.here.file if self.here else ""
        self.view, self._told, self._said = view, told, said
        self._at = min(self._at, max(0, len(view.lines) - 1))
        if before and (self.here is None or self.here.file != before):
            self._at = next((n for n, line in enumerate(view.lines) if line.file == before), 0)
        self.refill()

    def show_problem(self, sentence: str) -> None:
        """Say why something did not work."""
        self._said = sentence
        self.refill()

    @property
    def here(self) -> ReviewLine | None:
        """The log that the keys work on."""
        return self.view.lines[self._at] if len(self.view.lines) else None

    def refill(self) -> None:
        """Draw the lines that there is room for."""
        if not self.is_attached or not self.query(Sheet):
            return
        room = Room(*self.app.size)
        keys = self._keys(room)
        rows = self._rows = max(1, room.height - 2 - DETAIL_ROWS - len(keys))
        self._top = max(min(self._top, self._at), self._at - rows + 1)
        shown = self.view.lines[self._top : self._top + rows]
        table = [row_line(line, room.width, here=self._top + n == self._at) for n, line in enumerate(shown)]
        table += [EMPTY] * (rows - len(table))
        detail = self._detail(room)
        place = wrap([piece(self._place(), "place")], room.width - 2)[:1]
        lines = [_bar(place[0]), head_line(room.width), *table, *detail, *(_bar(each) for each in keys)]
        self.query_one(Sheet).show(lines[: room.height])
        self._put_entry(room, 0)
        self._aim()

    def _keys(self, room: Room) -> list[Line]:
        """Return the keys on two lines where there is room, so that none has to be looked for."""
        own: Mapping[str, str] = getattr(self.app, "own_keys", {})
        return key_lines(self.hints(), room.width - 2, rows=2 if room.height >= TALL else 1, own=own)

    def hints(self) -> list[Hint]:
        """Return the keys."""
        return [*(hint(key) for key in REVIEW), Hint("h", "help")]

    def help_text(self) -> str:
        """Return the help."""
        return HELP

    def offers(self, action: str) -> bool:
        """Tell whether the palette offers an action now: those on one log only while there is one."""
        return action != "more" and (self.here is not None or action in ("filter", "search", "quit_review"))

    def take_key(self, key: str) -> bool:
        """Take a key that moves."""
        if key in _MOVES or key in _PAGES:
            self._go(self._at + _MOVES.get(key, 0) + _PAGES.get(key, 0) * self._rows)
        elif key in _FAR:
            self._go(0 if _FAR[key] < 0 else len(self.view.lines) - 1)
        else:
            return False
        return True

    def _go(self, to: int) -> None:
        self._said = ""
        self._at = max(0, min(to, len(self.view.lines) - 1))
        self.refill()

    def _place(self) -> str:
        number = f"{self._at + 1} of {len(self.view.lines)}" if len(self.view.lines) else "none"
        return " - ".join(part for part in ("Review", number, self._told, self.view.sentence) if part)

    def _detail(self, room: Room) -> list[Line]:
        here = self.here
        if self._said:
            lines = say(self._said, room)
        elif here is None:
            lines = say("no log to show: show others with f, or search for something else", room, "plain")
        else:
            first = here.first_bad or "nothing to look at"
            told = here.marked or ("" if here.cells[-1] == "-" else "; ".join(here.proposed))
            lines = [
                *wrap([piece(first, "strong")], room.width - 6, piece("  ")),
                *wrap([piece(told, "hint")], room.width - 6, piece("  ")),
            ]
        return (lines + [EMPTY] * DETAIL_ROWS)[:DETAIL_ROWS]

    def _wish(self, wish: str) -> None:
        self._said = ""
        self.refill()
        self.post_message(self.Wished(wish, self.here.file if self.here else ""))

    def action_open_log(self) -> None:
        """Open the log that the keys work on."""
        self._wish("open")

    def action_sort(self) -> None:
        """Sort in another way."""
        self._wish("sort")

    def action_filter(self) -> None:
        """Show others."""
        self._wish("filter")

    def action_search(self) -> None:
        """Search."""
        self._wish("search")

    def action_names(self) -> None:
        """Hide names, or show them."""
        self._wish("names")

    def action_mark(self) -> None:
        """Mark the log."""
        self._wish("mark")

    def action_accept(self) -> None:
        """Accept all clean logs."""
        self._wish("accept")

    def action_cohort(self) -> None:
        """Show the cohort."""
        self._wish("cohort")

    def action_past(self) -> None:
        """Show the history of the boat."""
        self._wish("past")

    def action_page(self) -> None:
        """Write the page."""
        self._wish("page")

    def action_quit_review(self) -> None:
        """Leave."""
        self._wish("quit")


def _bar(one: Line) -> Line:
    return one._replace(fill="place", margin=1)
