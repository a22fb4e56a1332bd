"""A number outside the range a sum is valid for is refused in one sentence, never clamped."""

import math


class OutOfRange(ValueError):
    """A value lies outside the range its sum is valid for. The message names argument, value and range."""


def above_zero(name: str, value: float, high: float, unit: str = "") -> float:
    """Return ``value`` if it is above zero and at most ``high``: what a sum divides by.

    Args:
        name: The argument's name, for the message.
        value: The number to look at, in ``unit``.
        high: Largest value allowed, in ``unit``.
        unit: Unit of both, for the message.

    Raises:
        OutOfRange: if the value is zero, below, above ``high`` or no number.

    Example:
        >>> above_zero("current_a", 48, 2000, "A")
        48
    """
    if 0 < value <= high:
        return value
    raise OutOfRange(f"{name} is {value:g} {unit}".rstrip() + f"; it must be above 0 to {high:g} {unit}".rstrip())


def within(name: str, value: float, low: float, high: float, unit: str = "") -> float:
    """Return ``value`` if it is finite and in ``low`` to ``high``, both included.

    Args:
        name: The argument's name, for the message.
        value: The number to look at, in ``unit``.
        low: Least value allowed, in ``unit``.
        high: Largest value allowed, in ``unit``.
        unit: Unit of the three numbers, for the message.

    Raises:
        OutOfRange: if the value is not finite or lies outside.

    Example:
        >>> within("load_a", 48, 0, 1000, "A")
        48
    """
    if math.isfinite(value) and low <= value <= high:
        return value
    raise OutOfRange(f"{name} is {value:g} {unit}".rstrip() + f"; it must be from {low:g} to {high:g} {unit}".rstrip())
