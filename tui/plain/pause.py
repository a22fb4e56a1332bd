"""A pause in the plain face: the steps as a counted list, and what a number typed there means."""

from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.view.models import PauseView
from tui.draw.pause import pause_blocks, pause_place
from tui.plain.text import ROOM, texts, wrapped
from tui.plain.voice import number_in

if TYPE_CHECKING:
    from tui.plain.talk import Talk


def pause_lines(view: PauseView) -> list[str]:
    """Return a pause in the order of the screen: place, what to do, the steps."""
    return [line.text.rstrip() for line in pause_place(view, ROOM)] + texts(pause_blocks(view, ROOM))


def pause_prompt(view: PauseView) -> list[str]:
    """Return the prompt: the numbers that are not confirmed yet."""
    if view.next is None:
        return ["All of these are confirmed. An empty line goes on; a number looks at one:"]
    numbers = ", ".join(str(n) for n, item in enumerate(view.items, start=1) if not item.done)
    return wrapped(f"Number of the step that is done ({numbers}):")


def pick(face: "Talk", view: PauseView, text: str) -> None:
    """Confirm the step of a number, or open it where it asks for something or is done already."""
    picked = number_in(text, len(view.items))
    if picked is None:
        face.tell(f"Type a number from 1 to {len(view.items)}: each step by its own, there is none for all.")
        return
    item = view.items[picked]
    if item.status == "shut":
        face.tell(f"Not taken: {item.shut[0].sentence}.")
    elif item.opens or item.done:
        face.look(item.step)
    elif face.send(c.Finish(item.step)):
        after = face.job.pause(item.step)
        face.tell(f"recorded: {item.title}" + (f", {after.confirmed} of {len(after.items)}" if after else ""))
