"""Volts at a lamp: what is lost on the way, and what that does to a filament's light."""

import math

from engine.trade.ranges import OutOfRange, within

NAVIGATION_DROP_PERCENT = 3.0
"""Largest drop to a navigation light. Source: ABYC E-11, critical circuits (quoted)."""

ROAD_SHARE = 0.85
"""Least share of its design volts at a road lamp. Source: California Title 13, 1249(c) (read)."""

LIGHT_POWER = 3.4
"""Power of the volts that a filament's light follows. Source: common practice, 3.4 to 3.5 (quoted)."""


def drop_percent(source_v: float, lamp_v: float, nominal_v: float) -> float:
    """Return the drop between source and lamp [% of nominal].

    Args:
        source_v: Volts at the source, lamp lit [V], 0 to 100.
        lamp_v: Volts at the lamp, lit [V], 0 to 100.
        nominal_v: Nominal volts of the system [V], 1 to 100.

    Returns:
        The drop [%], below zero if the lamp reads more than the source.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Worked by hand: (12.60 - 12.24) V / 12 V = 3.0 %.

    Example:
        >>> round(drop_percent(12.60, 12.24, 12), 2)
        3.0
    """
    within("source_v", source_v, 0, 100, "V")
    within("lamp_v", lamp_v, 0, 100, "V")
    return 100 * (source_v - lamp_v) / within("nominal_v", nominal_v, 1, 100, "V")


def filament_light_percent(share_of_volts: float) -> float:
    """Return how much of its light a filament lamp gives at a share of its design volts [%].

    Args:
        share_of_volts: Volts at the lamp over its design volts [no unit], 0.5 to 1.2.

    Returns:
        The light [% of the design light].

    Raises:
        OutOfRange: if the share lies outside its range.

    Source:
        Common practice: light with the 3.4th power of volts (quoted). Worked by hand: 0.95^3.4 = 0.84, 5 % of the
        volts cost 16 % of the light.

    Example:
        >>> round(filament_light_percent(0.95))
        84
    """
    return 100 * math.pow(within("share_of_volts", share_of_volts, 0.5, 1.2), LIGHT_POWER)


def system_nominal_v(source_v: float) -> float:
    """Return the nominal volts that a source most likely has, 12 or 24 V [V].

    Args:
        source_v: Volts at the source [V], 8 to 32.

    Returns:
        12 below 18 V, else 24 [V].

    Raises:
        OutOfRange: if no 12 or 24 V system reads so.

    Source:
        This project's rule: half-way between the two.

    Example:
        >>> system_nominal_v(12.6), system_nominal_v(25.2)
        (12.0, 24.0)
    """
    if not 8 <= source_v <= 32:
        raise OutOfRange(f"source is {source_v:g} V; it must be from 8 to 32 V, or say what the lamp is made for")
    return 12.0 if source_v < 18 else 24.0
