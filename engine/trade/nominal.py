"""Volts that belong to a nominal: what a battery or a panel of that name shows, and what it never does."""

from engine.trade.ranges import within

LOW_SHARE, HIGH_SHARE = 0.9, 1.25
"""Volts of a battery over its nominal, flat to on charge: 10.8 to 15 V of 12. Source: this project's rule."""

PANEL_LOW_SHARE = 0.75
"""Open volts of a panel over its label, hot and in dull light. Source: this project's rule; at -0.35 % a kelvin 40 K
of heat take 14 %, and dull light some 10 %."""

PANEL_NEAR_SHARE = 0.15
"""How far the open volts of a panel in sun lie from its label. Source: this project's rule, +- 40 K at 0.35 % a K."""


def usual_v(nominal_v: float, *, panel: bool = False, near: bool = False) -> tuple[float, float]:
    """Return the least and the most volts that a source of that nominal can show [V].

    Args:
        nominal_v: Nominal volts; of a panel the open volts on its label [V], above 0 to 1000.
        panel: True for a solar panel.
        near: True for the narrower window of a panel in sun.

    Returns:
        Least and most [V].

    Raises:
        OutOfRange: if ``nominal_v`` lies outside its range.

    Source:
        This project's rule. Worked by hand: 0.9 x 24 V = 21.6 V, 1.25 x 24 V = 30 V.

    Example:
        >>> usual_v(24), usual_v(20, panel=True)
        ((21.6, 30.0), (15.0, 25.0))
    """
    within("nominal_v", nominal_v, 0.5, 1000, "V")
    if panel and near:
        return (1 - PANEL_NEAR_SHARE) * nominal_v, (1 + PANEL_NEAR_SHARE) * nominal_v
    return (PANEL_LOW_SHARE if panel else LOW_SHARE) * nominal_v, HIGH_SHARE * nominal_v
