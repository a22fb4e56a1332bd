"""One joint under load: its resistance, its drop at rated current, the heat that it makes."""

from engine.trade.ranges import OutOfRange, above_zero, within


def joint_resistance_ohm(drop_v: float, current_a: float) -> float:
    """Return the resistance of a joint from the drop across it [ohm].

    Args:
        drop_v: Drop measured across the joint, its size [V], 0 to 100.
        current_a: Current through it at that moment [A], above 0 to 2000.

    Returns:
        Its resistance [ohm].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Ohm's law. Worked by hand: 28 mV / 48 A = 0.583 mohm.

    Example:
        >>> round(1000 * joint_resistance_ohm(0.028, 48), 3)
        0.583
    """
    within("drop_v", drop_v, 0, 100, "V")
    return drop_v / above_zero("current_a", current_a, 2000, "A")


def drop_at_v(resistance_ohm: float, rated_a: float) -> float:
    """Return the drop across a joint at rated current [V].

    Args:
        resistance_ohm: Its resistance [ohm], 0 to 1000.
        rated_a: Rated current [A], above 0 to 2000.

    Returns:
        The drop [V].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Ohm's law. Worked by hand: 0.583 mohm x 60 A = 35 mV.

    Example:
        >>> round(1000 * drop_at_v(0.000583, 60), 1)
        35.0
    """
    return within("resistance_ohm", resistance_ohm, 0, 1000, "ohm") * above_zero("rated_a", rated_a, 2000, "A")


def joint_power_w(resistance_ohm: float, current_a: float) -> float:
    """Return the heat that a joint makes [W].

    Args:
        resistance_ohm: Its resistance [ohm], 0 to 1000.
        current_a: Current through it [A], above 0 to 2000.

    Returns:
        The power that becomes heat in the joint [W].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Joule's law, P = I^2 R. Worked by hand: 28, 50 and 100 mV at 48 A are 1.3, 2.4 and 4.8 W.

    Example:
        >>> [round(joint_power_w(mv / 1000 / 48, 48), 1) for mv in (28, 50, 100)]
        [1.3, 2.4, 4.8]
    """
    return within("resistance_ohm", resistance_ohm, 0, 1000, "ohm") * above_zero("current_a", current_a, 2000, "A") ** 2


def current_with_joint_a(open_v: float, circuit_ohm: float, joint_ohm: float) -> float:
    """Return the current through a resistive load with a joint in its way [A].

    Args:
        open_v: Volts of the source without load [V], above 0 to 1000.
        circuit_ohm: Resistance of everything but the joint, the load included [ohm], above 0 to 1e6.
        joint_ohm: Resistance of the joint [ohm], 0 to 1e6.

    Returns:
        The current [A]: the worse the joint, the less.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Ohm's law. Worked by hand: 24 V over 0.50 ohm is 48 A; with 0.02 ohm of green copper 46.2 A.

    Example:
        >>> round(current_with_joint_a(24, 0.5, 0.02), 1)
        46.2
    """
    within("open_v", open_v, 0, 1000, "V")
    within("joint_ohm", joint_ohm, 0, 1e6, "ohm")
    if not 0 < circuit_ohm <= 1e6:
        raise OutOfRange(f"circuit_ohm is {circuit_ohm:g} ohm; it must be above 0 to 1e6 ohm")
    return open_v / (circuit_ohm + joint_ohm)
