"""A wire end before it is clamped: damaged strands, and how long to strip."""

from dataclasses import dataclass

from engine.published.tables import number, table
from engine.trade.conductor import awg_number
from engine.trade.ranges import OutOfRange, within

STRIP_SHORT_M, STRIP_LONG_M = 0.0015, 0.002
SHORT_SHARE, LONG_SHARE = 0.12, 0.15
"""How much shorter and longer than the terminal is deep a strip may be [m], and the most of its depth [no unit].

Source: this project's rule, depth - 1.5 mm to depth + 2 mm, less in a terminal under 13 mm. For comparison:
NASA-STD-8739.4 leaves 0.25 to 1.25 mm
between insulation and a crimp barrel (read).
"""


@dataclass(frozen=True, slots=True)
class StrandLimit:
    """How many strands the handbook lets be damaged."""

    nicked: int
    broken: int


def share_percent(damaged: int, strands: int) -> float:
    """Return the share of damaged strands [%].

    Args:
        damaged: Strands nicked or broken [no unit], zero to ``strands``.
        strands: Strands in the conductor [no unit], 1 to 5000.

    Returns:
        The share [%].

    Raises:
        OutOfRange: if a count lies outside its range, or more strands are damaged than there are.

    Source:
        Worked by hand: 3 of 133 is 2.26 %.

    Example:
        >>> round(share_percent(3, 133), 2)
        2.26
    """
    within("strands", strands, 1, 5000)
    return 100 * within("damaged", damaged, 0, strands) / strands


def handbook_limit(size: str, strands: int) -> StrandLimit | None:
    """Return how many strands the aircraft handbook lets be nicked and broken.

    Args:
        size: The size as marked, such as ``8 AWG``.
        strands: Strands in the conductor [no unit], 1 to 5000.

    Returns:
        The limit, or None where the handbook has no row for that size and count.

    Raises:
        OutOfRange: if ``strands`` lies outside its range.

    Source:
        FAA AC 43.13-1B, table 11-13 (read): 8 to 4 AWG with 133 strands: 6 nicked, 6 broken.

    Example:
        >>> handbook_limit("8 AWG", 133)
        StrandLimit(nicked=6, broken=6)
        >>> handbook_limit("SAE 8", 133)
    """
    within("strands", strands, 1, 5000)
    if not size.endswith(" AWG"):
        return None
    gauge = awg_number(size.removesuffix(" AWG"))
    for row in table("strand_damage", "copper").rows:
        thin, thick = awg_number(str(row["awg_from"])), awg_number(str(row["awg_to"]))
        if thick <= gauge <= thin and number(row, "strands_min") <= strands <= number(row, "strands_max"):
            return StrandLimit(int(number(row, "max_nicked")), int(number(row, "max_broken")))
    return None


def strip_window_m(depth_m: float) -> tuple[float, float]:
    """Return the shortest and the longest strip for a terminal [m].

    Args:
        depth_m: Depth of the terminal that the copper goes into [m], 0.002 to 0.1.

    Returns:
        Shortest and longest length of bare copper [m].

    Raises:
        OutOfRange: if ``depth_m`` lies outside 2 to 100 mm.

    Source:
        This project's rule. Worked by hand: 14 mm deep: 12.5 to 16 mm; 3.5 mm: 3.5 - 0.42 = 3.08 to 3.5 + 0.525 mm.

    Example:
        >>> [round(1000 * x, 2) for depth in (0.014, 0.0035) for x in strip_window_m(depth)]
        [12.5, 16.0, 3.08, 4.03]
    """
    if not 0.002 <= depth_m <= 0.1:
        raise OutOfRange(f"depth is {1000 * depth_m:g} mm; it must be from 2 to 100 mm")
    return depth_m - min(STRIP_SHORT_M, SHORT_SHARE * depth_m), depth_m + min(STRIP_LONG_M, LONG_SHARE * depth_m)
