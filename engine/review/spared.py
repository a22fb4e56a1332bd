"""What a folder is spared: work on one bad file that cannot be done says why, and costs its own line alone."""

from collections.abc import Callable
from typing import TypeVar

Done = TypeVar("Done")

UNFIT = (ValueError, LookupError, TypeError, ArithmeticError, AttributeError, RecursionError)
"""What values that no session would have written may raise, wherever they are first used."""


def spared(work: Callable[[], Done]) -> tuple[Done | None, str]:
    """Return what ``work`` gives and no reason, or nothing and why the file's values do not let it."""
    try:
        return work(), ""
    except UNFIT as unfit:
        return None, reason(unfit)


def reason(unfit: Exception) -> str:
    """Return the first line of what was wrong, short."""
    return (str(unfit).splitlines() or [type(unfit).__name__])[0][:200]
