"""What the plain face prints: each view as lines of plain text, in the order of the screens."""

from dataclasses import replace

from engine.view.models import ClosingView, ConnectorPicture, EntryRow, MapPicture, ReturnView, StepView, Way, WhereView
from tui.draw.step import place_lines, step_blocks
from tui.draw.zones import TITLE
from tui.plain.plan import short_plan_lines
from tui.plain.text import ROOM, listed, texts, wrapped


def step_lines(view: StepView) -> list[str]:
    """Return a step in the order of the screen: place, warnings, action, why, values, verdicts."""
    lines = [x.text.rstrip() for x in place_lines(view, ROOM)]
    for each in step_blocks(replace(view, shut=(), warnings=()), ROOM):
        match each.name:
            case "action":
                lines += [x for w in view.warnings for x in wrapped(f"{w.word}: {w.text}")]
                lines += texts([each])
            case "found":
                lines += short_plan_lines(view.plan) if view.plan else []
            case "planned" | "weakest" | "remedy" | "buy" | "missing":
                continue
            case "connector":
                lines += connector_lines(view.connector) if view.connector else []
            case _:
                lines += texts([each])
    return lines


def connector_lines(picture: ConnectorPicture) -> list[str]:
    """Return a connector in words: the side it is seen from, then a sentence for each position."""
    return listed(f"{picture.title}, {picture.seen_from}", (position.sentence for position in picture.positions))


def map_lines(picture: MapPicture, name: str = "") -> list[str]:
    """Return a recorded pin map in words: how many pairs, then a sentence for each position."""
    return listed(f"recorded: {name}{picture.says}", (row.sentence for row in picture.rows))


def ask_lines(row: EntryRow) -> list[str]:
    """Return the prompt for one value; it ends its line."""
    if row.choices:
        return listed(row.ask, (f"{number} {word}" for number, word in enumerate(row.choices, start=1)))
    return wrapped(f"{row.ask} ({row.hint}):")


def way_lines(way: Way) -> list[str]:
    """Return the way that a command leads through: a heading, then each step with what it does."""
    rows = (f"{step.number} {step.title}{f' - {step.does}' if step.does else ''}" for step in way.steps)
    return listed(way.says, rows)


def where_lines(view: WhereView) -> list[str]:
    """Return where power is and where hands are: a sentence for each zone, then how things were left."""
    zones = (f"{zone.name}: {zone.words}{f'; {zone.hands}' if zone.hands else ''}" for zone in view.zones)
    return [
        *(listed(TITLE, zones) or ["This job has no zones."]),
        *listed("How it was left", view.physical),
        *listed("Also open on this boat", view.beside),
    ]


def return_lines(view: ReturnView, *, demo: bool) -> list[str]:
    """Return the screen after a break: first how it was left."""
    mark = "[DEMO] " if demo else ""
    return [
        *wrapped(f"{mark}{view.title} - {view.away}"),
        *listed("How it was left", view.physical),
        *listed("Also open on this boat", view.beside),
        *(wrapped(f"You wrote: {view.line}") if view.line else []),
        *listed("Recorded last", view.last),
        *(["Look at the last two of these on the boat before you go on."] if view.asks_to_look else []),
        *listed("To prove again", view.expired),
        *listed("Left to do", view.left_to_do),
        *wrapped(f"{view.next_step[:1].upper()}{view.next_step[1:]}"),
    ]


def closing_lines(view: ClosingView, *, demo: bool) -> list[str]:
    """Return the closing screen: what blocks it, what was not measured, the head."""
    mark = "[DEMO] " if demo else ""
    return [
        *wrapped(f"{mark}{view.title}"),
        *listed("Failed, and never measured good again", view.standing),
        *listed("Not measured", view.not_measured),
        *listed("In the way", (b.sentence for b in view.blocks)),
        *listed("Accepted", view.accepted),
        *listed("Deviations", view.deviations),
        *listed("To look at later", view.due),
        f"Head of the log: {view.head}, {view.events} events",
    ]
