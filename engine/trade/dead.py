"""Is a point without voltage: what one reading says, and whether the meter proved itself before and after."""

from engine.trade.ranges import within

DEAD_V = 0.10
"""The most that a dead point shows: float and meter offset. Source: this project's rule, without guard band."""

LIVE_V = 1.0
"""Above this a point is live; in between it must be loaded. Source: this project's rule."""

KNOWN_SHARE = 0.9
"""Least share of its nominal volts that the known source must show, before and after. Source: this project's rule."""


def point_says(volts: float) -> str:
    """Return what one reading says of a point: ``dead``, ``load it`` or ``live``.

    Args:
        volts: What the meter shows, either sign [V], -1000 to 1000.

    Returns:
        ``dead`` up to 0.10 V, ``load it`` up to 1.0 V (it must then fall to 0.10 V or less), ``live`` above.

    Raises:
        OutOfRange: if ``volts`` lies outside its range.

    Source:
        This project's rule for the bands.

    Example:
        >>> [point_says(v) for v in (0.10, -0.11, 1.0, -1.01)]
        ['dead', 'load it', 'load it', 'live']
    """
    size = abs(within("volts", volts, -1000, 1000, "V"))
    if size <= DEAD_V:
        return "dead"
    return "load it" if size <= LIVE_V else "live"


def known_source_good(volts: float, nominal_v: float) -> bool:
    """Return whether the known live source shows at least 0.9 of its nominal volts.

    Args:
        volts: What the meter shows on it, either sign [V], -1000 to 1000.
        nominal_v: Its nominal volts [V], above 0 to 1000.

    Returns:
        Whether the meter proved that it can read.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Prove, test, prove again: HSE GS38 practice (quoted); the share is this project's rule.

    Example:
        >>> known_source_good(12.6, 12), known_source_good(10.7, 12)
        (True, False)
    """
    within("nominal_v", nominal_v, 0.5, 1000, "V")
    return abs(within("volts", volts, -1000, 1000, "V")) >= KNOWN_SHARE * nominal_v
