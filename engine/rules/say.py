"""How findings say numbers: three figures, and more only where a value would look equal to its limit."""

import math

_ROOM = 1e-9
"""Relative room for rounding in the last bit when a value is held against a limit. Source: IEEE 754 double."""

MINUTE_S = 60.0
"""Seconds of a minute [s]."""


def at_most(value: float, limit: float) -> bool:
    """Return whether a computed value is at or under its limit, last-bit rounding aside.

    Args:
        value: The value [any unit].
        limit: The limit [the same unit].

    Returns:
        True if it is.

    Source:
        IEEE 754 double; room of 1e-9 of the larger.

    Example:
        >>> at_most(0.1 + 0.2, 0.3), at_most(3.0001, 3)
        (True, False)
    """
    return value <= limit or value <= limit + _ROOM * max(abs(value), abs(limit))


def at_least(value: float, limit: float) -> bool:
    """Return whether a computed value is at or over its limit, last-bit rounding aside.

    Args:
        value: The value [any unit].
        limit: The limit [the same unit].

    Returns:
        True if it is.

    Source:
        As ``at_most``.

    Example:
        >>> at_least(0.3, 0.1 + 0.2), at_least(2.9999, 3)
        (True, False)
    """
    return at_most(limit, value)


def short(value: float, figures: int = 3) -> str:
    """Return a number as people write it, without an exponent in the usual range.

    Args:
        value: The number [any unit].
        figures: How many figures are kept [count].

    Returns:
        Its text, without trailing noughts.

    Source:
        This project's rule.

    Example:
        >>> short(4.4435), short(57.0), short(1250)
        ('4.44', '57', '1250')
    """
    text = f"{value:.{figures}g}"
    return text if "e" not in text else _without_exponent(value, figures)


def minutes(time_s: float) -> str:
    """Return a time in minutes, below one minute in seconds.

    Args:
        time_s: The time [s].

    Returns:
        The time as people say it.

    Source:
        This project's way of writing.

    Example:
        >>> minutes(13.02), minutes(540)
        ('13 s', '9 min')
    """
    return f"{short(time_s)} s" if time_s < MINUTE_S else f"{short(time_s / MINUTE_S)} min"


def _without_exponent(value: float, figures: int) -> str:
    places = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    if places > 6:
        return f"{value:.{figures}g}"
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def apart(value: float, limit: float) -> str:
    """Return a number with just enough figures to be told from its limit in print.

    Args:
        value: The number [any unit].
        limit: Its limit [the same unit].

    Returns:
        Its text, of three to six figures.

    Source:
        This project's rule.

    Example:
        >>> apart(3.002, 3), apart(4.4435, 3)
        ('3.002', '4.44')
    """
    for figures in (3, 4, 5, 6):
        if short(value, figures) != short(limit, figures):
            return short(value, figures)
    return short(value)
