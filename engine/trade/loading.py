"""How hard a part is worked: its current against its rating, and the heat that goes with it."""

from math import pi

from engine.trade.ranges import within


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
