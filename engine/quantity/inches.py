"""Feet, inches and fractions of an inch, as a tape shows them."""

import math
from fractions import Fraction

FINEST_PART = 64
"""Parts of an inch on the finest rule in common use (common practice, no source)."""


def inches_shown(inches: float, step: float) -> str:
    """Return a length in whole inches and a fraction, no finer than ``step`` and never finer than 1/64.

    Args:
        inches: The length [in].
        step: The smallest difference that the reading can tell [in].

    Example:
        >>> inches_shown(1.3125, 1 / 16), inches_shown(0.5118, 0.0039)
        ('1 5/16 in', '33/64 in')
    """
    parts = _parts_for(step)
    count = round(abs(inches) * parts)
    return f"{_sign(inches, count)}{_mixed(count, parts)} in"


def feet_shown(inches: float, step: float) -> str:
    """Return a length in feet and inches; below one foot, in inches alone.

    Args:
        inches: The length [in].
        step: The smallest difference that the reading can tell [in].

    Example:
        >>> feet_shown(179.92, 0.39), feet_shown(182.375, 1 / 8)
        ('15 ft 0 in', '15 ft 2 3/8 in')
    """
    parts = _parts_for(step)
    count = round(abs(inches) * parts)
    feet, rest = divmod(count, 12 * parts)
    if not feet:
        return inches_shown(inches, step)
    return f"{_sign(inches, count)}{feet} ft {_mixed(rest, parts)} in"


def _parts_for(step: float) -> int:
    """Return in how many parts an inch is shown: a power of two, each part no smaller than the step."""
    if step * FINEST_PART <= 1:
        return FINEST_PART
    return int(2 ** max(math.floor(-math.log2(step) + 1e-9), 0))


def _mixed(count: int, parts: int) -> str:
    whole, rest = divmod(count, parts)
    if not rest:
        return str(whole)
    fraction = Fraction(rest, parts)
    return f"{whole} {fraction}" if whole else str(fraction)


def _sign(inches: float, count: int) -> str:
    return "-" if inches < 0 and count else ""
