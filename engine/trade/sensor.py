"""A sender or sensor at two or more states: does it move one way, and does it follow its curve."""

from collections.abc import Sequence
from itertools import pairwise

from engine.trade.ranges import OutOfRange, within

CURVE_PERCENT = 10.0
"""How far from its curve a reading may be. Source: this project's rule, where the maker gives none."""


def direction(readings: Sequence[float], least_step: float = 0.0) -> int:
    """Return which way the readings go from state to state.

    Args:
        readings: What was read, in the order of the states [any one unit], at least two.
        least_step: The least change that counts [the same unit], zero or above.

    Returns:
        1 if every step rises, -1 if every step falls, 0 if they turn or stand still.

    Raises:
        OutOfRange: if there are fewer than two readings, or ``least_step`` is below zero.

    Source:
        A gauge needs a sender that goes one way: worked by hand, 240, 110, 33 ohm falls.

    Example:
        >>> direction([240, 110, 33]), direction([240, 33, 110])
        (-1, 0)
    """
    if len(readings) < 2:
        raise OutOfRange(f"there are {len(readings)} readings; two states or more are needed")
    within("least_step", least_step, 0, 1e12)
    steps = [after - before for before, after in pairwise(readings)]
    if all(step > least_step for step in steps):
        return 1
    return -1 if all(step < -least_step for step in steps) else 0


def off_curve_percent(reading: float, curve: float) -> float:
    """Return how far a reading is from its gauge's curve [%].

    Args:
        reading: What was read [any unit].
        curve: What the curve says at that state [the same unit], not zero.

    Returns:
        The difference in percent of the curve's figure, either sign [%].

    Raises:
        OutOfRange: if ``curve`` is zero or a number is not finite.

    Source:
        Worked by hand: 36 ohm where the curve says 33: +9.1 %.

    Example:
        >>> round(off_curve_percent(36, 33), 1)
        9.1
    """
    if curve == 0:
        raise OutOfRange("curve is 0; a figure of the gauge's curve must not be zero")
    return 100 * (within("reading", reading, -1e12, 1e12) - within("curve", curve, -1e12, 1e12)) / abs(curve)
