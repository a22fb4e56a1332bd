"""How hard a part is worked: its current against its rating, the heat and the volts that go with it."""

from math import pi, sqrt

from engine.published.tables import number, table
from engine.trade.ranges import above_zero, within

DEVICE_DROP_V = 0.08
"""What a breaker, fuse, switch or plug loses at its rated current, lugs and both poles together [V].

Source: this project's rule. Three devices of 60 A have 4 mohm then: the middle of the 3 to 5 mohm that breaker, plug
and lugs of such a run have (from memory); fuse and breaker sheets print 70 to 150 mV (from memory).
"""


def loading(current_a: float, rating_a: float) -> float:
    """Return current over rating [no unit].

    Args:
        current_a: What flows through the part [A], 0 to 100000.
        rating_a: What it is rated for [A], above 0.

    Returns:
        The share of its rating, above 1 when overloaded.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        The label; common practice, no source.

    Example:
        >>> loading(48, 30)
        1.6
    """
    within("current_a", current_a, 0, 100000, "A")
    within("rating_a", rating_a, 0.001, 100000, "A")
    return current_a / rating_a


def heat_ratio(current_a: float, rating_a: float) -> float:
    """Return a part's heat as a multiple of its heat at its rating [no unit].

    Args:
        current_a: What flows through the part [A], 0 to 100000.
        rating_a: What it is rated for [A], above 0.

    Returns:
        (I / I_rating)^2.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Joule's law. Worked by hand: 48 A on a 30 A part: 1.6^2 = 2.56 times.

    Example:
        >>> round(heat_ratio(48, 30), 2)
        2.56
    """
    return loading(current_a, rating_a) ** 2


def device_ohm(rating_a: float) -> float:
    """Return the resistance of a sound breaker, fuse, switch or plug, its lugs counted in [ohm].

    Args:
        rating_a: What it is rated for [A], above 0 to 6000.

    Returns:
        0.08 V over the rating [ohm].

    Raises:
        OutOfRange: if the rating lies outside its range.

    Source:
        ``DEVICE_DROP_V``. Worked by hand: breaker, receptacle and plug of 60 A: 3 x 0.08 V / 60 A = 4 mohm.

    Example:
        >>> round(3 * device_ohm(60), 6)
        0.004
    """
    return DEVICE_DROP_V / above_zero("rating", rating_a, 6000, "A")


def device_factor(ambient_c: float) -> float:
    """Return the share of its rating that a thermal breaker or a contact holds in warm air [no unit].

    Args:
        ambient_c: Warmest air around it [degC], -40 to 200.

    Returns:
        1 up to 40 degC, sqrt((105 - T) / 65) above, 0 from 105 degC on.

    Raises:
        OutOfRange: if the temperature lies outside its range.

    Source:
        Heat balance as ANSI/IEEE C37.20.1 has it, as quoted. Worked by hand: 50 degC, sqrt(55 / 65) = 0.92.

    Example:
        >>> [round(device_factor(air), 2) for air in (25, 40, 50, 60)]
        [1.0, 1.0, 0.92, 0.83]
    """
    printed = table("overcurrent", "warm_air").figures
    hottest_c, set_c = number(printed, "hottest_c"), number(printed, "set_c")
    left_k = hottest_c - within("ambient", ambient_c, -40, 200, "degC")
    return min(1.0, sqrt(max(0.0, left_k) / (hottest_c - set_c)))


def strand_area_mm2(strands: float, strand_diameter_mm: float) -> float:
    """Return the copper of a stranded wire [mm2].

    Args:
        strands: How many strands it has [count], 1 to 20000.
        strand_diameter_mm: Diameter of one bare strand [mm], 0.02 to 20.

    Returns:
        N pi d^2 / 4 [mm2].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Area of a circle. Worked by hand: 133 x pi / 4 x 0.361^2 = 13.6 mm2, which is 6 AWG.

    Example:
        >>> round(strand_area_mm2(133, 0.361), 1)
        13.6
    """
    within("strands", strands, 1, 20000)
    within("strand_diameter", strand_diameter_mm, 0.02, 20, "mm")
    return strands * pi / 4 * strand_diameter_mm**2
