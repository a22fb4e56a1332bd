"""A pause in reading order: what to do, how many are confirmed, and the steps as a counted list."""

from collections.abc import Mapping

from engine.view.models import PauseItem, PauseView
from tui.draw.pages import Room
from tui.lines import Block, Line, Piece, block, piece, wrap

ASKED = "Do these, then confirm each:"
ROOMY = 20
"""Rows of a window in which the list has a heading apart; in a smaller one it fills the pages."""


def pause_place(view: PauseView, room: Room, page: str = "") -> list[Line]:
    """Return the place line, with the demo mark and the page of a list that needs several."""
    demo = [piece("[DEMO]", "demo"), piece(" ", "place")] if view.demo else []
    text = f"{view.place.split(' - ')[0]} - {page}" if page else view.place
    return wrap([*demo, piece(text, "place")], room.width - room.margin)


def pause_blocks(view: PauseView, room: Room) -> list[Block]:
    """Return the list, each step in a block of its own. The one that comes next has the sign of what is asked now."""
    width = room.measure
    coming = view.next
    numbers = {item.step: n for n, item in enumerate(view.items, start=1)}
    lists = (_item(item, numbers, width, now=item is coming) for item in view.items)
    asked = wrap([piece(ASKED, "action"), piece(f" {view.confirmed} of {len(view.items)}", "title")], width)
    items = [one for lines in lists for one in lines]
    return [block("asked", asked), block("items", items)] if room.height >= ROOMY else [block("items", asked + items)]


def item_words(item: PauseItem, numbers: Mapping[str, int]) -> str:
    """Return the state of a step at a pause in words; what it asks for if it is simply open.

    Nothing where its verdict is told already.

    Args:
        item: The step.
        numbers: The numbers of the steps in the list, by id.
    """
    if item.status == "shut" and item.shut:
        before = numbers.get(item.shut[0].step)
        return f"after {before}" if before else f"shut: {item.shut[0].sentence}"
    return {
        "done": "" if item.label else "done",
        "ended": "done, holds no longer",
        "begun": f"begun, {item.asks} left" if item.asks else "begun",
    }.get(item.status, item.asks)


def _item(item: PauseItem, numbers: Mapping[str, int], width: int, *, now: bool) -> list[Line]:
    """Return one step: what it is confirmed by stands with it; one that asks for values is opened and read."""
    sign = "+" if item.done else ">" if now else "-"
    number = numbers[item.step]
    state = item_words(item, numbers)
    label = [piece(f" {item.label}", item.verdict)] if item.label and (item.done or item.verdict != "pass") else []
    pieces: list[Piece] = [piece(item.title, "ask"), *([piece(f" ({state})", "hint")] if state else []), *label]
    if not item.opens and not item.done:
        pieces += [piece(": ", "ask"), piece(item.action, "plain")]
    return wrap(pieces, width, piece(f"{sign} {number} ", "value" if item.done else "now"), key=str(number))
