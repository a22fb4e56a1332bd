"""Solar panels: the current to design for, and the volts on the coldest morning."""

from engine.trade.ranges import within

IRRADIANCE_FACTOR, CONTINUOUS_FACTOR = 1.25, 1.25
"""More sun than the standard test has, and a continuous load on top. Source: NFPA 70 (NEC) 690.8, as quoted."""

TEST_CELL_C = 25.0
"""Cell temperature of a panel's label. Source: IEC 61215 standard test conditions, from memory."""


def design_current_a(short_circuit_a: float, strings: float) -> float:
    """Return the current that wire and fuse of panels are designed for [A].

    Args:
        short_circuit_a: Short-circuit current of one string, as on the label [A], above 0 to 100.
        strings: Strings side by side [count], 1 to 100.

    Returns:
        1.25 x 1.25 x Isc x strings [A].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        NFPA 70 (NEC) 690.8, as quoted. Worked by hand: 1.5625 x 8.6 A = 13.4 A.

    Example:
        >>> round(design_current_a(8.6, 1), 2)
        13.44
    """
    within("isc", short_circuit_a, 0.001, 100, "A")
    within("strings", strings, 1, 100)
    return IRRADIANCE_FACTOR * CONTINUOUS_FACTOR * short_circuit_a * strings


def cold_open_circuit_v(open_circuit_v: float, coldest_c: float, percent_per_k: float) -> float:
    """Return the open volts of a panel on the coldest morning [V].

    Args:
        open_circuit_v: Open-circuit volts on the label, at 25 degC [V], above 0 to 1000.
        coldest_c: Coldest air in which the sun can shine on it [degC], -60 to 60.
        percent_per_k: Change of the open volts per kelvin, of either sign [%/K], -1 to 1.

    Returns:
        Voc (1 + |b| (25 - T)) [V].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Linear coefficient of the label. Worked by hand: 22.5 V x (1 + 0.00305 x 35) = 24.9 V at -10 degC.

    Example:
        >>> round(cold_open_circuit_v(22.5, -10, -0.305), 1)
        24.9
    """
    within("voc", open_circuit_v, 0.001, 1000, "V")
    within("coldest", coldest_c, -60, 60, "degC")
    within("coefficient", percent_per_k, -1, 1, "%/K")
    return open_circuit_v * (1 + abs(percent_per_k) / 100 * (TEST_CELL_C - coldest_c))
