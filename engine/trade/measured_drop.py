"""The drop of a whole run under load, held against what its wire and parts should lose."""

from dataclasses import dataclass

from engine.trade.ranges import above_zero, within
from engine.trade.reading import quotient

LEAST_SHARE = 0.4
"""Least share of rated current at which a load test says something.

Source: this project's rule; thermography practice asks for the same share (quoted).
"""


@dataclass(frozen=True, slots=True)
class MeasuredDrop:
    """A measured run: resistance [ohm], its ratio to the prediction, and the excess at rated current [V]."""

    drop_v: float
    resistance_ohm: float
    ratio: float
    drop_at_rated_v: float
    excess_v: float
    excess_u_v: float
    excess_w: float


def enough_current(current_a: float, rated_a: float) -> bool:
    """Return whether the current is large enough for the test to say something.

    Args:
        current_a: Current during the test [A], 0 to 2000.
        rated_a: Rated current of the load [A], above 0 to 2000.

    Returns:
        Whether it is at least 0.4 of the rated one.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        This project's rule. Worked by hand: 0.4 x 48 A = 19.2 A.

    Example:
        >>> enough_current(19.2, 48), enough_current(19.1, 48)
        (True, False)
    """
    within("current_a", current_a, 0, 2000, "A")
    return current_a >= LEAST_SHARE * above_zero("rated_a", rated_a, 2000, "A") * (1 - 1e-9)


def measured_drop(
    drop_v: float, drop_u_v: float, current_a: float, current_u_a: float, rated_a: float, predicted_ohm: float
) -> MeasuredDrop:
    """Return what a measured drop says of a run.

    Args:
        drop_v: Drop of the whole loop, out and back [V], -1000 to 1000.
        drop_u_v: Its standard uncertainty [V], zero or above.
        current_a: Current at the same moment [A], above 0 to 2000.
        current_u_a: Its standard uncertainty [A], zero or above.
        rated_a: Rated current of the load [A], above 0 to 2000.
        predicted_ohm: What wire, breaker, plug and lugs should have together [ohm], above 0 to 1000.

    Returns:
        Resistance, ratio, drop at rated current, and the excess over the prediction with its standard uncertainty.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Ohm's law; JCGM 100:2008, 5.1.2. Worked by hand: 1.10 V at 44 A is 25 mohm; predicted 21.43 mohm at 48 A:
        excess 3.57 mohm x 48 A = 0.171 V, 8.2 W.

    Example:
        >>> found = measured_drop(1.10, 0.0166, 44, 0.78, 48, 0.02143)
        >>> round(1000 * found.resistance_ohm, 1), round(found.ratio, 3), round(found.excess_v, 3)
        (25.0, 1.167, 0.171)
    """
    within("drop_v", drop_v, -1000, 1000, "V")
    above_zero("current_a", current_a, 2000, "A")
    above_zero("rated_a", rated_a, 2000, "A")
    above_zero("predicted_ohm", predicted_ohm, 1000, "ohm")
    resistance = drop_v / current_a
    excess_ohm = resistance - predicted_ohm
    return MeasuredDrop(
        drop_v=drop_v,
        resistance_ohm=resistance,
        ratio=resistance / predicted_ohm,
        drop_at_rated_v=resistance * rated_a,
        excess_v=excess_ohm * rated_a,
        excess_u_v=quotient(drop_v, drop_u_v, current_a, current_u_a) * rated_a,
        excess_w=excess_ohm * rated_a**2,
    )
