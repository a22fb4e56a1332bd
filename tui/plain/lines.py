"""What the plain face prints: each view as lines of plain text, in the order of the screens."""

from collections.abc import Iterable

from engine.view.models import ClosingView, EntryRow, ReturnView, StepView
from tui.draw.pages import Room
from tui.draw.step import place_lines, step_blocks
from tui.inert import one_line
from tui.lines import Block, piece, wrap

ROOM = Room(80, 24)
"""Lines are wrapped as at 80 columns: 66 characters."""


def step_lines(view: StepView) -> list[str]:
    """Return a step: place, warnings, action, why, values, verdicts."""
    return [*(x.text for x in place_lines(view, ROOM)), *texts(step_blocks(view, ROOM))]


def texts(blocks: Iterable[Block]) -> list[str]:
    """Return the lines of blocks, without their looks."""
    return [line.text.rstrip() for block in blocks for line in block.lines]


def wrapped(text: str) -> list[str]:
    """Return a text made harmless and wrapped."""
    return [line.text.rstrip() for line in wrap([piece(one_line(text))], ROOM.measure)]


def ask_lines(row: EntryRow) -> list[str]:
    """Return the prompt for one value; it ends its line."""
    numbered = [f"  {n} {word}" for n, word in enumerate(row.choices, start=1)]
    hint = "" if row.choices else f" ({row.hint})"
    return [*wrapped(f"{row.ask}{hint}:"), *numbered]


def listed(name: str, items: Iterable[str]) -> list[str]:
    """Return a heading with its items, or nothing."""
    found = [line for item in items for line in (f"  {x}" for x in wrapped(item))]
    return [f"{name}:", *found] if found else []


def return_lines(view: ReturnView, *, demo: bool) -> list[str]:
    """Return the screen after a break."""
    mark = "[DEMO] " if demo else ""
    return [
        *wrapped(f"{mark}{view.title} - {view.away}"),
        *listed("How it was left", view.physical),
        *(wrapped(f"You wrote: {view.line}") if view.line else []),
        *listed("Recorded last", view.last),
        *(["Look at the last two of these on the boat before you go on."] if view.asks_to_look else []),
        *listed("No longer holds", view.expired),
        *listed("Left to do", view.left_to_do),
        *wrapped(view.next_step),
    ]


def closing_lines(view: ClosingView, *, demo: bool) -> list[str]:
    """Return the closing screen: what blocks it, what was not measured, the head."""
    mark = "[DEMO] " if demo else ""
    state = view.ended or ("Closing - nothing is in the way" if view.can_close else "Closing - not yet")
    return [
        f"{mark}{state}",
        *listed("Not measured", view.not_measured),
        *listed("In the way", (b.sentence for b in view.blocks)),
        *listed("Accepted", view.accepted),
        *listed("Deviations", view.deviations),
        *listed("To look at later", view.due),
        f"Head of the log: {view.head}, {view.events} events",
    ]
