"""A pause in reading order: what to do, how many are confirmed, and the steps as a counted list."""

from engine.view.models import PauseItem, PauseView
from tui.draw.pages import Room
from tui.lines import Block, Line, Piece, block, line, piece, wrap

ASKED = "Do all of these. Then say of each, by its digit, that it is done."


def pause_place(view: PauseView, room: Room, page: str = "") -> list[Line]:
    """Return the place line, with the demo mark and the page of a list that needs several."""
    demo = [piece("[DEMO]", "demo"), piece(" ", "place")] if view.demo else []
    text = f"{view.place.split(' - ')[0]} - {page}" if page else view.place
    return wrap([*demo, piece(text, "place")], room.width - room.margin)


def pause_blocks(view: PauseView, room: Room) -> list[Block]:
    """Return the list, each step in a block of its own. The one that comes next has the sign of what is asked now."""
    width = room.measure
    counted = line(piece(f"Confirmed: {view.confirmed} of {len(view.items)}", "title"))
    coming = view.next
    return [
        block("asked", [*wrap([piece(ASKED, "action")], width), counted]),
        block("items", [one for n, item in enumerate(view.items, 1) for one in _item(item, n, width, item is coming)]),
    ]


def item_words(item: PauseItem) -> str:
    """Return the state of a step at a pause in words; empty for one that is simply to be confirmed."""
    return {
        "done": "done",
        "ended": "done, holds no longer",
        "shut": f"shut: {item.shut[0].sentence}" if item.shut else "shut",
        "begun": f"begun, {item.asks} left" if item.asks else "begun",
    }.get(item.status, item.asks)


def _item(item: PauseItem, number: int, width: int, now: bool) -> list[Line]:
    """Return one step: what it is confirmed by stands with it; one that asks for values is opened and read."""
    sign = "+" if item.done else ">" if now else "-"
    mark = piece(f"{sign} {number} ", "value" if item.done else "now")
    state = item_words(item)
    label = [piece(f" {item.label}", item.verdict)] if item.label and (item.done or item.verdict != "pass") else []
    pieces: list[Piece] = [piece(item.title, "ask"), *([piece(f" ({state})", "hint")] if state else []), *label]
    if not item.opens and not item.done:
        pieces += [piece(": ", "ask"), piece(item.action, "plain")]
    return wrap(pieces, width, mark, key=str(number))
