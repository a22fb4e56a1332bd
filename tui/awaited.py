"""What a step waits for, and which commands can work on it: read off the view-model, with no rule of its own."""

from enum import StrEnum

from engine.view.models import EntryRow, StepView

MOST_DIGITS = 9
"""Choices that digit keys can pick from; longer lists are typed."""


class Awaited(StrEnum):
    """What a step waits for."""

    SHUT = "shut"
    PARTS = "parts"
    CHOICE = "choice"
    TYPED = "typed"
    PLAIN = "plain"
    HOLD = "hold"
    STUCK = "stuck"
    DONE = "done"


def row_asked(view: StepView) -> EntryRow | None:
    """Return the value that is asked for now: the first that is open."""
    if view.status != "open":
        return None
    return next((row for row in view.rows if row.state == "open"), None)


def awaited(view: StepView) -> Awaited:
    """Return what a step waits for."""
    if view.status != "open":
        return (
            Awaited.SHUT if view.status == "shut" else Awaited.DONE
        )  # "ended" is done too: it was, and holds no longer
    if any(not part.seen for part in view.parts):
        return Awaited.PARTS
    if (row := row_asked(view)) is not None:
        return Awaited.CHOICE if 0 < len(row.choices) <= MOST_DIGITS else Awaited.TYPED
    if view.ready:
        return Awaited.HOLD if view.hold else Awaited.PLAIN
    return Awaited.STUCK


def works(action: str, view: StepView, goto: str = "") -> bool:
    """Tell whether a command can work on a step. ``goto`` is the step that a refusal named, if one did."""
    row = row_asked(view)
    given = any(row.state != "open" for row in view.rows)
    can = {
        "through": awaited(view) in {Awaited.HOLD, Awaited.STUCK} and bool(view.hold),
        "back": bool(view.previous),
        "skip": row is not None and bool(row.skip),
        "sum": bool(view.verdicts),
        "redo": view.status in {"done", "ended"} or (given and view.status == "open"),
        "accept": any(each.needs == "accept" for each in view.verdicts),
        "deviate": any(each.needs == "deviate" for each in view.verdicts),
        "what_if": view.plan is not None,
        "volts": view.plan is not None and bool(view.plan.ladder),
        "goto": bool(goto or view.shut),
    }
    return can.get(action, True)
