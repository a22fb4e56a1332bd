"""How findings say numbers: three figures, and more only where a value would look equal to its limit."""

import math

_ROOM = 1e-9
"""Relative room for rounding in the last bit when a value is held against a limit. Source: IEEE 754 double."""


def at_most(value: float, limit: float) -> bool:
    """Return whether a computed value is at or under its limit, last-bit rounding aside."""
    return value <= limit + _ROOM * max(abs(value), abs(limit))


def at_least(value: float, limit: float) -> bool:
    """Return whether a computed value is at or over its limit, last-bit rounding aside."""
    return at_most(limit, value)


def short(value: float, figures: int = 3) -> str:
    """Return a number as people write it: ``4.44``, ``57``, ``1250``; never with an exponent in the usual range."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    if places > 6:
        return f"{value:.{figures}g}"
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def apart(value: float, limit: float) -> str:
    """Return ``value`` with just enough figures to be told from ``limit`` in print."""
    for figures in (3, 4, 5, 6):
        if short(value, figures) != short(limit, figures):
            return short(value, figures)
    return short(value)
