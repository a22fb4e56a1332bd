"""Times and counts as people say them."""

from datetime import datetime

DAY_S = 86400


def span(seconds: float) -> str:
    """Return a span of time in words: ``3 minutes``, ``2 hours``, ``4 days``."""
    for size, name in ((DAY_S, "day"), (3600, "hour"), (60, "minute")):
        if seconds >= size:
            return count(int(seconds // size), name)
    return "less than a minute"


def count(number: int, name: str) -> str:
    """Return a count with its noun: ``1 step``, ``3 steps``."""
    return f"{number} {name}" if number == 1 else f"{number} {name}s"


def since(at: str, now: datetime) -> str:
    """Return how long ago an ISO time was: ``3 hours ago``."""
    return f"{span(max(0.0, (now - datetime.fromisoformat(at)).total_seconds()))} ago"


def sentences(text: str) -> tuple[str, ...]:
    """Return the sentences of a text.

    Example:
        >>> sentences("Hands off. Find the source, then measure again.")
        ('Hands off.', 'Find the source, then measure again.')
    """
    return tuple(part.strip() + "." for part in text.rstrip(". ").split(". ")) if text else ()
