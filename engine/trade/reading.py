"""What a reading can tell: half-widths of instruments, made standard, put together, and widened to U."""

import math
from collections.abc import Iterable

from engine.trade.ranges import OutOfRange, within

COVERAGE = 2.0
"""Coverage factor k of U = k u, about 95 %. Source: JCGM 100:2008, 6.2.1 and 6.3.3 (quoted)."""

WIRE_OVER_TAPE = 1.03
"""Wire needed over taped distance. Source: common practice, add 3 % to a run (memory)."""

_MANY = 1e12


def half_width(
    reading: float,
    percent: float,
    counts: float,
    resolution: float,
    percent_of_range: float = 0.0,
    full_scale: float = 0.0,
) -> float:
    """Return the largest error that an instrument's printed accuracy allows, in the reading's unit.

    Args:
        reading: What it shows [any unit].
        percent: Percent of the reading [%], 0 to 100.
        counts: Steps of the last digit [no unit], 0 to 1000.
        resolution: One step of the last digit [the reading's unit], zero or above.
        percent_of_range: Percent of the range's end [%], 0 to 100.
        full_scale: The range's end [the reading's unit], zero or above.

    Returns:
        The half-width a: the true value lies from ``reading - a`` to ``reading + a`` [the reading's unit].

    Raises:
        OutOfRange: if a number is not finite or lies outside its range.

    Source:
        Accuracy as makers print it, +/-(p % of reading + n digits + q % of range). Worked by hand: 12.60 V with
        0.5 % + 2 digits of 0.01 V is 0.063 + 0.020 = 0.083 V.

    Example:
        >>> round(half_width(12.60, 0.5, 2, 0.01), 3)
        0.083
    """
    within("reading", reading, -_MANY, _MANY)
    within("percent", percent, 0, 100, "%")
    within("counts", counts, 0, 1000)
    within("resolution", resolution, 0, _MANY)
    within("percent_of_range", percent_of_range, 0, 100, "%")
    within("full_scale", full_scale, 0, _MANY)
    return percent / 100 * abs(reading) + counts * resolution + percent_of_range / 100 * full_scale


def standard(half: float) -> float:
    """Return the standard uncertainty of a half-width of which nothing more is known.

    Args:
        half: The half-width a of a rectangular distribution [any unit], zero or above.

    Returns:
        u = a / root 3 [the same unit].

    Raises:
        OutOfRange: if ``half`` is below zero or not finite.

    Source:
        JCGM 100:2008, 4.3.7. Worked by hand: 0.083 V / 1.7321 = 0.0479 V.

    Example:
        >>> round(standard(0.083), 4)
        0.0479
    """
    return within("half", half, 0, _MANY) / math.sqrt(3)


def standard_of_step(resolution: float) -> float:
    """Return the standard uncertainty that the last digit alone leaves.

    Args:
        resolution: One step of the display [any unit], zero or above.

    Returns:
        u = d / root 12, a half-width of half a step [the same unit].

    Raises:
        OutOfRange: if ``resolution`` is below zero or not finite.

    Source:
        JCGM 100:2008, F.2.2.1. Worked by hand: 0.01 V / 3.4641 = 0.00289 V.

    Example:
        >>> round(standard_of_step(0.01), 5)
        0.00289
    """
    return within("resolution", resolution, 0, _MANY) / math.sqrt(12)


def combined(parts: Iterable[float]) -> float:
    """Return the standard uncertainty of a sum of independent parts.

    Args:
        parts: The standard uncertainty of each part, times its share in the sum [any one unit].

    Returns:
        The root of the sum of squares [the same unit]; zero for no parts.

    Raises:
        OutOfRange: if a part is not finite.

    Source:
        JCGM 100:2008, 5.1.2. Worked by hand: root(3^2 + 4^2) = 5.

    Example:
        >>> combined([3.0, 4.0])
        5.0
    """
    return math.hypot(*(within("part", part, -_MANY, _MANY) for part in parts))


def expanded(u: float, k: float = COVERAGE) -> float:
    """Return the half-width U that a decision is made with.

    Args:
        u: Standard uncertainty [any unit], zero or above.
        k: Coverage factor [no unit], 1 to 4.

    Returns:
        U = k u [the same unit].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        JCGM 100:2008, 6.2.1.

    Example:
        >>> expanded(0.048)
        0.096
    """
    return within("k", k, 1, 4) * within("u", u, 0, _MANY)


def linear_sum(half_widths: Iterable[float]) -> float:
    """Return the worst case of several half-widths: only a comparison, never what a verdict stands on.

    Args:
        half_widths: Half-widths [any one unit], each zero or above.

    Returns:
        Their plain sum [the same unit].

    Raises:
        OutOfRange: if one is below zero or not finite.

    Source:
        Worked by hand: two meters at 24.9 V, 0.5 % + 2 digits each: 2 x 0.1445 = 0.289 V, where root sum of squares
        and k = 2 give 0.236 V.

    Example:
        >>> round(linear_sum([0.1445, 0.1445]), 3)
        0.289
    """
    return math.fsum(within("half_width", half, 0, _MANY) for half in half_widths)


def two_meter_difference(first: float, second: float, percent: float, counts: float, resolution: float) -> float:
    """Return the standard uncertainty of ``first - second``, each read on a meter of its own.

    Args:
        first: One reading [any unit].
        second: The other [the same unit].
        percent: Percent of reading of both meters [%], 0 to 100.
        counts: Steps of the last digit of both meters [no unit], 0 to 1000.
        resolution: One step of the last digit [the same unit], zero or above.

    Returns:
        u of the difference [the same unit].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        JCGM 100:2008, 4.3.7 and 5.1.2. Worked by hand: 24.9 V and 23.8 V, 0.5 % + 2 digits of 0.01 V:
        root((0.1445^2 + 0.1390^2) / 3) = 0.1158 V.

    Example:
        >>> round(two_meter_difference(24.9, 23.8, 0.5, 2, 0.01), 4)
        0.1158
    """
    return combined(standard(half_width(x, percent, counts, resolution)) for x in (first, second))


def same_meter_difference(first: float, second: float, percent: float, counts: float, resolution: float) -> float:
    """Return the standard uncertainty of ``first - second``, both read on one meter and one range.

    The error of its scale is the same in both and touches only their difference; the last digits do not cancel.

    Args:
        first: One reading [any unit].
        second: The other [the same unit].
        percent: Percent of reading [%], 0 to 100.
        counts: Steps of the last digit [no unit], 0 to 1000.
        resolution: One step of the last digit [the same unit], zero or above.

    Returns:
        u of the difference [the same unit].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        JCGM 100:2008, 5.2.2: parts that are wholly correlated add before they are squared. Worked by hand:
        24.9 - 23.8 V: root((0.0055^2 + 0.02^2 + 0.02^2) / 3) = 0.0166 V.

    Example:
        >>> round(same_meter_difference(24.9, 23.8, 0.5, 2, 0.01), 4)
        0.0166
    """
    scale = standard(half_width(first - second, percent, 0, 0))
    digits = standard(half_width(0, 0, counts, resolution))
    return combined([scale, digits, digits])


def quotient(numerator: float, u_numerator: float, denominator: float, u_denominator: float) -> float:
    """Return the standard uncertainty of ``numerator / denominator``.

    Args:
        numerator: Such as a drop [any unit].
        u_numerator: Its standard uncertainty [the same unit], zero or above.
        denominator: Such as a current [any unit], not zero.
        u_denominator: Its standard uncertainty [the same unit], zero or above.

    Returns:
        u of the quotient [unit of the numerator over unit of the denominator].

    Raises:
        OutOfRange: if the denominator is zero, or a number is not finite or below its range.

    Source:
        JCGM 100:2008, 5.1.3. Worked by hand: 28 mV +/- 0.3 over 48 A +/- 0.8: root(0.00625^2 + 0.00972^2) mohm.

    Example:
        >>> round(quotient(28, 0.3, 48, 0.8), 5)
        0.01156
    """
    if denominator == 0:
        raise OutOfRange("denominator is 0; it must not be zero")
    within("u_numerator", u_numerator, 0, _MANY)
    within("u_denominator", u_denominator, 0, _MANY)
    return combined([u_numerator / denominator, numerator * u_denominator / denominator**2])


def wire_length_m(taped_m: float) -> float:
    """Return the length of wire that a taped run needs [m].

    Args:
        taped_m: Run measured with a tape along the way of the wire [m], 0 to 200.

    Returns:
        The length of wire, one way [m].

    Raises:
        OutOfRange: if ``taped_m`` lies outside 0 to 200 m.

    Source:
        Common practice: add 3 %, since a wire does not lie as straight as a tape (memory). Worked by hand:
        5.05 m x 1.03 = 5.20 m.

    Example:
        >>> round(wire_length_m(5.05), 2)
        5.2
    """
    return WIRE_OVER_TAPE * within("taped_m", taped_m, 0, 200, "m")
