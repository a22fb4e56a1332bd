"""The torque of a screw: the window around a given figure, and the printed figure for a hex key."""

from dataclasses import dataclass

from engine.published.tables import NotPrinted, number, table
from engine.source import Source
from engine.trade.protection import INCH_M
from engine.trade.ranges import within

LBF_IN_NM = 0.1129848290276167
"""One pound-force inch [N m]. Source: 4.4482216152605 N x 0.0254 m, both exact by definition."""

WINDOW = 0.10
"""How far from the figure a set value may be, as a share. Source: UL 486A-486B, tightening within 10 % (quoted)."""

_SAME_KEY_M = 0.0001


@dataclass(frozen=True, slots=True)
class KeyTorque:
    """The printed torque [N m] of a screw that a hex key turns, and who says so."""

    torque_nm: float
    source: Source


def window_nm(specified_nm: float) -> tuple[float, float]:
    """Return the least and the largest torque that count as the figure given [N m].

    Args:
        specified_nm: The figure of the maker's sheet [N m], 0.05 to 200.

    Returns:
        0.9 and 1.1 times the figure [N m].

    Raises:
        OutOfRange: if ``specified_nm`` lies outside its range.

    Source:
        UL 486A-486B as quoted. Worked by hand: 4.0 N m: 3.6 to 4.4 N m.

    Example:
        >>> [round(x, 2) for x in window_nm(4.0)]
        [3.6, 4.4]
    """
    within("specified_nm", specified_nm, 0.05, 200, "N m")
    return (1 - WINDOW) * specified_nm, (1 + WINDOW) * specified_nm


def lug_torque_by_key(across_flats_m: float) -> KeyTorque:
    """Return the printed torque of a **lug or connector block** whose maker gives none, by its hex key.

    Never use it for a receptacle or plug contact: it would strip a small brass one.

    Args:
        across_flats_m: Hex key across flats [m], within 0.1 mm of a printed key.

    Returns:
        The torque [N m], from the printed lbf in, and its source.

    Raises:
        NotPrinted: if no such key is printed; nothing is put between two keys.

    Source:
        NFPA 70 annex I, table I.3, from UL 486A-486B (quoted). Worked by hand: 3/16 in: 120 lbf in = 13.56 N m.

    Example:
        >>> round(lug_torque_by_key(3 / 16 * 0.0254).torque_nm, 2)
        13.56
    """
    printed = table("torque", "socket_drive")
    for row in printed.rows:
        if abs(_inch_m(str(row["across_flats_in"])) - across_flats_m) <= _SAME_KEY_M:
            return KeyTorque(number(row, "torque_lbf_in") * LBF_IN_NM, printed.source)
    raise NotPrinted(f"no torque is printed for a key of {1000 * across_flats_m:.3g} mm: ask for the maker's figure")


def _inch_m(fraction: str) -> float:
    over, _, under = fraction.partition("/")
    return float(over) / float(under) * INCH_M
