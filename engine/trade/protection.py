"""Fuses and breakers: the window of ratings, the standard sizes in it, how far away, and what they must interrupt."""

from dataclasses import dataclass
from functools import cache

from engine.published.tables import number, table
from engine.trade.ranges import OutOfRange, within

HIGHER_V = 50.0
"""From these nominal volts on a wire's own figure is the ceiling of its fuse, and a bundle counts by regulation [V].

Source: 33 CFR 183.455(c)(1) and (2), 183.435(b).
"""

INCH_M = 0.0254
"""One inch [m]. Source: its definition, international yard and pound agreement of 1959."""


@dataclass(frozen=True, slots=True)
class Window:
    """Which ratings protect and still carry the load. It is empty when ``low_a`` is above ``high_a``."""

    low_a: float
    high_a: float
    sizes_a: tuple[float, ...]
    wanted_a: float

    @property
    def empty(self) -> bool:
        """Whether no rating at all can do both."""
        return self.low_a > self.high_a

    @property
    def wanted_sizes_a(self) -> tuple[float, ...]:
        """The sizes that also have the reserve for a continuous load."""
        return tuple(size for size in self.sizes_a if size >= self.wanted_a * (1 - 1e-9))


@cache
def standard_sizes_a() -> tuple[float, ...]:
    """Return the standard ratings of fuses and breakers, small to large [A].

    Returns:
        The ratings of the list, with the four small fuse ratings and the blade sizes below its start [A].

    Source:
        NFPA 70 (NEC) 240.6(A); blade sizes of ISO 8820-3, as quoted.

    Example:
        >>> [size for size in standard_sizes_a() if 30 <= size <= 60]
        [30.0, 35.0, 40.0, 45.0, 50.0, 60.0]
    """
    lists = (
        table("fuse_sizes", "nec_240_6").rows[0]["rating_a"],
        table("fuse_sizes", "nec_additional_fuse").rows[-1]["rating_a"],
        *(row["rating_a"] for row in table("fuse_sizes", "blade").rows if row["type"] != "E (high current)"),
    )
    return tuple(sorted({float(size) for sizes in lists if isinstance(sizes, tuple) for size in sizes}))


def window(load_a: float, ceiling_a: float, device_a: float, continuous_factor: float = 1.25) -> Window:
    """Return the window of ratings for a fuse or breaker.

    Args:
        load_a: What the load draws at full power [A], above 0.
        ceiling_a: The largest rating that guards the wire [A], above 0.
        device_a: Lowest rating in series: receptacle, plug, switch [A], above 0.
        continuous_factor: Rating wanted over a continuous load, as a factor [no unit], 1 to 2.

    Returns:
        [load, min(ceiling, device)] with the standard sizes in it, and the rating wanted for a continuous
        load.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        33 CFR 183.455(c) for the ceiling; the device limit and 1.25 are common practice, no source. Worked by hand:
        48 A, 80 A allowable, 60 A receptacle: 48 to min(1.5 x 80, 60) A, so 50 and 60 A.

    Example:
        >>> found = window(48, 120, 60)
        >>> found.low_a, found.high_a, found.sizes_a, found.wanted_sizes_a
        (48.0, 60.0, (50.0, 60.0), (60.0,))
    """
    low_a = float(within("load", load_a, 0.001, 10000, "A"))
    within("ceiling", ceiling_a, 0.001, 20000, "A")
    within("device", device_a, 0.001, 10000, "A")
    within("continuous_factor", continuous_factor, 1, 2)
    high_a = float(min(ceiling_a, device_a))
    room = 1e-9
    sizes = tuple(s for s in standard_sizes_a() if low_a * (1 - room) <= s <= high_a * (1 + room))
    return Window(low_a, high_a, sizes, continuous_factor * low_a)


def next_size_up_a(current_a: float) -> float:
    """Return the smallest standard rating that is not below a current [A].

    Args:
        current_a: The current [A], above 0 to 6000.

    Returns:
        The rating [A].

    Raises:
        OutOfRange: if the current is above the largest standard rating.

    Source:
        NFPA 70 (NEC) 240.6(A).

    Example:
        >>> next_size_up_a(51)
        60.0
    """
    within("current_a", current_a, 0.001, standard_sizes_a()[-1], "A")
    return next(size for size in standard_sizes_a() if size >= current_a * (1 - 1e-9))


def farthest_place_m(
    sheathed: bool, at_battery: bool, bare_in: float, sheathed_in: float, battery_in: float, battery_needs_sheath: bool
) -> float:
    """Return how far from its source a fuse or breaker may stand, along the wire [m].

    Args:
        sheathed: Whether the wire lies in a sheath or enclosure all that way.
        at_battery: Whether the wire is fixed to the battery itself.
        bare_in: Distance allowed without a sheath [in], 0 to 100.
        sheathed_in: Distance allowed in a sheath [in], 0 to 100.
        battery_in: Distance allowed from the battery itself [in], 0 to 100.
        battery_needs_sheath: Whether that one holds only in a sheath.

    Returns:
        The longest distance that applies [m].

    Raises:
        OutOfRange: if a distance lies outside its range.

    Source:
        33 CFR 183.455(b), 183.460(a): 7, 40 and 72 in; ABYC E-11 as quoted wants a sheath for 72 in as well.

    Example:
        >>> round(1000 * farthest_place_m(False, True, 7, 40, 72, True))
        178
    """
    for name, inches in (("bare_in", bare_in), ("sheathed_in", sheathed_in), ("battery_in", battery_in)):
        within(name, inches, 0, 100, "in")
    allowed = [bare_in]
    if sheathed:
        allowed.append(sheathed_in)
    if at_battery and (sheathed or not battery_needs_sheath):
        allowed.append(battery_in)
    return max(allowed) * INCH_M


def interrupting_a(cranking_a: float, branch: bool = False) -> float:
    """Return what the first breaker from a 12 V or 24 V lead-acid bank must interrupt [A].

    Args:
        cranking_a: Cold-cranking amperes behind it [A], above 0 to 2200: of one battery of a series string, the sum of
            parallel ones.
        branch: Whether it is a branch breaker behind the first one.

    Returns:
        The printed figure [A].

    Raises:
        OutOfRange: if the cranking amperes lie outside the table; above 2200 the maker's short-circuit figure counts.

    Source:
        ABYC E-11 table V.A, as quoted.

    Example:
        >>> [interrupting_a(cca) for cca in (650, 651, 800, 1101)]
        [1500.0, 3000.0, 3000.0, 5000.0]
    """
    within("cca", cranking_a, 1, 2200, "A")
    rows = table("interrupting", "by_cranking_amps").rows
    reached = next(row for row in rows if cranking_a <= float(str(row.get("cca_max", "inf"))))
    return number(reached, "branch_a" if branch else "main_a")


def loop_fault_a(open_circuit_v: float, internal_ohm: float, loop_ohm: float) -> float:
    """Return the current of a dead short at the end of a loop [A].

    Args:
        open_circuit_v: Volts of the bank with nothing drawn [V], above 0 to 1000.
        internal_ohm: Resistance inside the bank [ohm], 0 to 100.
        loop_ohm: Resistance of the wires there and back [ohm], 0 to 1000.

    Returns:
        I = V / (R_int + R_loop) [A].

    Raises:
        OutOfRange: if a number lies outside its range, or nothing at all resists the current.

    Source:
        Ohm's law. Worked by hand: 24.9 V / (12 + 21.43) mohm = 745 A.

    Example:
        >>> round(loop_fault_a(24.9, 0.012, 0.02143)), round(loop_fault_a(24.9, 0.012, 0))
        (745, 2075)
    """
    within("open_circuit", open_circuit_v, 0.001, 1000, "V")
    total = within("internal", internal_ohm, 0, 100, "ohm") + within("loop", loop_ohm, 0, 1000, "ohm")
    if total < 1e-6:
        raise OutOfRange("internal and loop are 0 ohm together; a short needs some resistance, at least 0.000001 ohm")
    return open_circuit_v / total


def internal_from_cranking_ohm(open_circuit_v: float, cranking_a: float) -> float:
    """Return an upper estimate of a 12 V battery's inner resistance from its cranking amperes [ohm].

    Args:
        open_circuit_v: Its rest volts [V], 10 to 15.
        cranking_a: Its cold-cranking amperes [A], 50 to 3000.

    Returns:
        (V - 7.2 V) / CCA [ohm]: good for "does it trip", never for what a breaker must interrupt.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        The cranking test ends at 7.2 V; from memory, an upper bound. Worked by hand: 5.25 V / 800 A = 6.6 mohm.

    Example:
        >>> round(1000 * internal_from_cranking_ohm(12.45, 800), 2)
        6.56
    """
    within("open_circuit", open_circuit_v, 10, 15, "V")
    within("cca", cranking_a, 50, 3000, "A")
    return (open_circuit_v - 7.2) / cranking_a
