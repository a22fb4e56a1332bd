"""A given value in words, the same in every face, on the page and in an export."""

from engine.procedure.model import Entry
from engine.quantity import show
from engine.session.events import Taken


def shown(entry: Entry, taken: Taken, *, both: bool = True) -> str:
    """Return a given value in words, with its sign where one is demanded, the other system of units in brackets.

    Args:
        entry: What was asked.
        taken: What was given.
        both: Whether the other system of units follows.
    """
    if taken.over:
        return "over range (open)"
    if taken.yes is not None:
        return "yes" if taken.yes else "no"
    if taken.label is not None:
        return taken.label
    if taken.number is None:
        return ""
    return show(taken.number, entry.unit, step=taken.digit or None, both=both, sign=entry.signed)
