"""A short until it is cleared: what an arc draws, how long fuse or breaker let it flow, how long the wire bears it."""

import math

from engine.published.tables import number, table
from engine.trade.ranges import above_zero, within

ARCING_SHARE = 0.3
"""Least share of a dead short that flows through an arc or a loose contact [no unit].

Source: from memory, 30 to 50 %; NFPA 70E annex D.5 takes half of it, the arc of most power (quoted).
"""

TRIP_MULTIPLE = 6.0
"""The multiple of its rating at which a device's time is told [no unit]. Source: usual point of trip curves, memory."""

TRIP_S = {"breaker": (1.0, 5.0), "fuse": (0.02, 0.1)}
"""Shortest and longest time to clear six times the rating [s], by kind.

Source: from memory; thermal breakers of 1 to 5 s, blade fuses as ISO 8820-3.
"""

SOFTENS_C = ((125.0, 250.0), (0.0, 160.0))
"""From which jacket rating on a short may heat the copper how far [degC]. Source: IEC 60949 as quoted: XLPE, PVC."""


def trip_s(kind: str, rating_a: float, current_a: float) -> tuple[float, float]:
    """Return the shortest and longest time in which a device clears a short [s].

    Args:
        kind: ``breaker`` or ``fuse``.
        rating_a: Its rating [A], above 0 to 6000.
        current_a: What flows [A], above 0 to 200000.

    Returns:
        The times at six times the rating, at another current by the same heat (I^2 t).

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        ``TRIP_S``. Worked by hand: 60 A breaker at 180 A, three times: (6/3)^2 x 1 to 5 s = 4 to 20 s.

    Example:
        >>> trip_s("breaker", 60, 180)
        (4.0, 20.0)
    """
    multiple = above_zero("current_a", current_a, 200000, "A") / above_zero("rating_a", rating_a, 6000, "A")
    fast, slow = TRIP_S[kind]
    return fast * (TRIP_MULTIPLE / multiple) ** 2, slow * (TRIP_MULTIPLE / multiple) ** 2


def withstand_s(area_mm2: float, current_a: float, metal_c: float, insulation_c: float) -> float:
    """Return how long a wire bears a short before its jacket softens [s].

    Args:
        area_mm2: Its copper [mm2], above 0 to 1000.
        current_a: What flows [A], above 0 to 200000.
        metal_c: The copper before the short [degC], -60 to 300.
        insulation_c: Rating printed on the jacket [degC], 60 to 250.

    Returns:
        t = (k S / I)^2; 0 if the copper is as hot already [s].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        IEC 60949, as quoted: all heat stays in the copper, k = 226 sqrt(ln(1 + (Tf - Ti) / (234.5 + Ti))). Worked by
        hand: 3.31 mm2 from 70 to 160 degC, k = 115: (115 x 3.31 / 362 A)^2 = 1.1 s.

    Example:
        >>> round(withstand_s(3.31, 362, 70, 105), 1)
        1.1
    """
    within("metal", metal_c, -60, 300, "degC")
    above_zero("area", area_mm2, 1000, "mm2")
    final_c = next(soft for from_c, soft in SOFTENS_C if within("insulation", insulation_c, 60, 250, "degC") >= from_c)
    return (adiabatic_k(metal_c, final_c) * area_mm2 / above_zero("current_a", current_a, 200000, "A")) ** 2


def adiabatic_k(initial_c: float, final_c: float) -> float:
    """Return the constant of copper that a short heats from one temperature to another [A s^0.5 / mm2].

    Args:
        initial_c: Before the short [degC], -60 to 300.
        final_c: After it [degC].

    Returns:
        The constant, 0 if it is as hot already.

    Source:
        IEC 60949, as quoted; its printed figures are 115 from 70 and 100 from 90 to 160 degC, 143 from 90 to 250.

    Example:
        >>> [round(adiabatic_k(*ends)) for ends in ((70, 160), (90, 160), (90, 250), (30, 160))]
        [115, 100, 143, 143]
    """
    if final_c <= initial_c:
        return 0.0
    printed = table("conductor_heating", "adiabatic_k").figures
    beta_c = number(printed, "beta_c")
    return number(printed, "copper_k") * math.sqrt(math.log(1 + (final_c - initial_c) / (beta_c + initial_c)))
