"""Something to read: the sum behind a verdict, the plan in detail, the help. Enter or Escape goes back."""

from collections.abc import Callable, Sequence

from engine.view.models import PlanView, StepView, WhereView
from tui.draw.keyline import Hint
from tui.draw.pages import Room
from tui.draw.plan import buy_blocks, ladder_blocks, part_blocks, plan_blocks, what_if_blocks
from tui.draw.step_parts import verdict_lines
from tui.draw.zones import where_blocks
from tui.keys import READ, bindings, shown
from tui.lines import Block, Line, block, piece, wrap
from tui.screens.page import PageScreen

Drawing = Callable[[int], list[Block]]
"""Blocks for a width."""

HELP = "Read on with Enter or the arrow keys; Escape goes back at once."


class ReadScreen(PageScreen[None]):
    """Shows text, page by page, and goes back."""

    BINDINGS = bindings(READ)
    AREAS = ("read", "page")

    def __init__(self, title: str, drawing: Drawing) -> None:
        super().__init__()
        self._title = title
        self._drawing = drawing

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the title."""
        return self.titled(f"{self._title} - {page}" if page else self._title, room)

    def blocks(self, room: Room) -> list[Block]:
        """Return the text."""
        return self._drawing(room.measure)

    def hints(self) -> list[Hint]:
        """Return the keys."""
        more = self.page + 1 < self.page_count
        on = Hint("enter", f"read on {self.page + 1}/{self.page_count}" if more else "back")
        return [on, Hint("escape", "back")] if more else [on]

    def help_text(self) -> str:
        """Return the help."""
        return HELP

    def action_on(self) -> None:
        """Read on, or go back from the last page."""
        if not self.read_on():
            self.dismiss(None)

    def action_more(self) -> None:
        """Go back."""
        self.dismiss(None)


def help_screen(text: str, hints: Sequence[Hint]) -> ReadScreen:
    """Return the help of a screen: its text, then its keys."""

    def drawing(width: int) -> list[Block]:
        said = [block("help", wrap([piece(each)], width)) for each in text.split("\n")]
        keys = [
            one for hint in hints for one in wrap([piece(hint.word)], width, piece(f"{shown(hint.key)}  ", "strong"))
        ]
        return [*said, block("keys", keys)]

    return ReadScreen("Help", drawing)


def sum_screen(view: StepView) -> ReadScreen:
    """Return the sums behind a step's verdicts: inputs and formula, limits, sources."""

    def drawing(width: int) -> list[Block]:
        blocks: list[Block] = []
        for each in view.verdicts:
            lines = verdict_lines(each, width)
            for part in each.working.split("\n"):
                lines += wrap([piece(part, "value")], width, piece("  ")) if part else []
            for name, texts in (("Limit: ", each.limits), ("Source: ", each.sources)):
                lines += [one for text in texts for one in wrap([piece(text)], width, piece(f"  {name}"), hang=4)]
            blocks.append(block("sum", lines))
        return blocks

    return ReadScreen(f"The sum - {view.title}", drawing)


def where_screen(view: WhereView) -> ReadScreen:
    """Return where power is and where hands are, to read."""
    return ReadScreen("Where", lambda width: where_blocks(view, width))


def plan_screen(plan: PlanView, kind: str) -> ReadScreen:
    """Return the plan to read: ``plan`` with every part, ``what_if``, or ``volts``."""
    drawings: dict[str, tuple[str, Drawing]] = {
        "plan": (
            "The plan",
            lambda width: [*plan_blocks(plan, width), *part_blocks(plan, width), *buy_blocks(plan, width)],
        ),
        "what_if": ("What if", lambda width: what_if_blocks(plan, width)),
        "volts": ("Volts along the run", lambda width: ladder_blocks(plan, width)),
    }
    title, drawing = drawings[kind]
    return ReadScreen(title, drawing)
