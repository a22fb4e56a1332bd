"""Heat of a part under load, scaled to rated current by the square law."""

from engine.trade.ranges import above_zero, within

LEAST_SHARE = 0.7
"""Least share of rated current from which a rise may be scaled. Source: this project's rule."""

SOAK_S = 600.0
"""Least time under load before a temperature counts [s]. Source: common practice, ten minutes (quoted)."""


def heat_scale(current_a: float, rated_a: float) -> float:
    """Return by what a rise at one current grows at rated current.

    Args:
        current_a: Current during the test [A], above 0 to 2000.
        rated_a: Rated current of the load [A], above 0 to 2000.

    Returns:
        (rated / current) squared [no unit].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Joule's law: heat with the square of the current; conservative, since a warm part loses more. Worked by hand:
        (48 / 40)^2 = 1.44.

    Example:
        >>> round(heat_scale(40, 48), 2)
        1.44
    """
    return (above_zero("rated_a", rated_a, 2000, "A") / above_zero("current_a", current_a, 2000, "A")) ** 2


def scaled_difference_k(hotter_c: float, cooler_c: float, current_a: float, rated_a: float) -> float:
    """Return a difference of two temperatures, scaled to rated current [K].

    Args:
        hotter_c: One temperature [degC], -60 to 400.
        cooler_c: The other, such as the air [degC], -60 to 400.
        current_a: Current during the test [A], above 0 to 2000.
        rated_a: Rated current of the load [A], above 0 to 2000.

    Returns:
        The difference at rated current [K], below zero if ``hotter_c`` is the cooler.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        As ``heat_scale``. Worked by hand: (38 - 22) K x 1.44 = 23.0 K.

    Example:
        >>> round(scaled_difference_k(38, 22, 40, 48), 1)
        23.0
    """
    within("hotter_c", hotter_c, -60, 400, "degC")
    within("cooler_c", cooler_c, -60, 400, "degC")
    return (hotter_c - cooler_c) * heat_scale(current_a, rated_a)


def enough_current(current_a: float, rated_a: float) -> bool:
    """Return whether a rise at that current may be scaled to the rated one.

    Args:
        current_a: Current during the test [A], above 0 to 2000.
        rated_a: Rated current of the load [A], above 0 to 2000.

    Returns:
        Whether it is at least 0.7 of the rated one.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        This project's rule. Worked by hand: 0.7 x 48 A = 33.6 A.

    Example:
        >>> enough_current(33.6, 48), enough_current(33.5, 48)
        (True, False)
    """
    return heat_scale(current_a, rated_a) <= LEAST_SHARE**-2 * (1 + 1e-9)
