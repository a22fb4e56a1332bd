"""What flows when everything is off: a current, or a resistance between the poles."""

from engine.trade.ranges import within

CLEAN_A, NAMED_A = 0.001, 0.050
"""Up to the first a circuit is clean, up to the second it needs a name. Source: common practice (quoted)."""

CLEAN_OHM, SMALL_OHM, SWITCHED_ON_OHM = 10_000.0, 1_000.0, 10.0
"""Above the first clean, down to the second a small leak, under the third something is on. Source: as above."""


def unexplained_a(current_a: float, named_a: float) -> float:
    """Return the current that the loads which were named do not explain [A].

    Args:
        current_a: Current with everything switched off, its size [A], 0 to 100.
        named_a: Sum of the loads that are always on, such as a clock or a radio's memory [A], 0 to 100.

    Returns:
        What is left, zero if the named loads explain more than all [A].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Worked by hand: 22 mA with a radio of 20 mA leaves 2 mA.

    Example:
        >>> round(1000 * unexplained_a(0.022, 0.020), 1)
        2.0
    """
    within("current_a", current_a, 0, 100, "A")
    return max(0.0, current_a - within("named_a", named_a, 0, 100, "A"))


def leak_current_a(volts: float, resistance_ohm: float) -> float:
    """Return the current that a resistance between the poles would draw [A].

    Args:
        volts: Volts of the bank [V], 0 to 100.
        resistance_ohm: Resistance between the poles, bank and loads off [ohm], 0.001 to 1e12.

    Returns:
        The current [A].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Ohm's law. Worked by hand: 12 V / 10 kohm = 1.2 mA.

    Example:
        >>> round(1000 * leak_current_a(12, 10_000), 1)
        1.2
    """
    within("volts", volts, 0, 100, "V")
    return volts / within("resistance_ohm", resistance_ohm, 0.001, 1e12, "ohm")
