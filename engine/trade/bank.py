"""A bank of batteries: how they are linked, what it must read, how well they match, how full they are."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.published.tables import Table, number, table
from engine.trade.ranges import OutOfRange, within

LEAD = ("lead", "agm", "gel")
LITHIUM = ("lifepo4",)
CHEMISTRIES = (*LEAD, *LITHIUM)


class WrongWiring(ValueError):
    """The links that were counted cannot make a bank. The message says why."""


@dataclass(frozen=True, slots=True)
class RestWindow:
    """Rest voltage of one battery [V]: charge first below ``low_v``, flat below ``empty_v``, not at rest above."""

    empty_v: float
    low_v: float
    high_v: float


def in_series(count: int, links: int) -> int:
    """Return how many batteries stand in series in each string of a bank.

    Args:
        count: Batteries in the bank [no unit], 1 to 24.
        links: Series links, the + of one to the - of the next, in the whole bank [no unit], zero or above.

    Returns:
        The batteries in each string [no unit].

    Raises:
        OutOfRange: if a count lies outside its range.
        WrongWiring: if the links close a ring, or leave strings of different length.

    Source:
        Circuit theory: n batteries with L series links are n - L strings. Worked by hand: 4 batteries, 2 links: 2
        strings of 2.

    Example:
        >>> in_series(2, 1), in_series(2, 0), in_series(4, 2)
        (2, 1, 2)
    """
    within("batteries", count, 1, 24)
    within("links", links, 0, 100)
    strings = count - links
    if strings <= 0:
        raise WrongWiring(f"{links} links on {count} batteries close a ring: a short circuit")
    if count % strings:
        raise WrongWiring(f"{links} links on {count} batteries leave strings of different length")
    return count // strings


def expected_bank_v(batteries_v: Sequence[float], links: int) -> float:
    """Return the volts that a bank must read by its batteries and links [V].

    Args:
        batteries_v: Volts of each battery [V], each -100 to 100.
        links: Series links in the whole bank [no unit].

    Returns:
        Mean volts of a battery times the batteries in series [V].

    Raises:
        OutOfRange: if a number lies outside its range.
        WrongWiring: as ``in_series``.

    Source:
        Circuit theory: volts in series add, in parallel they stay. Worked by hand: 12.60 + 12.62 V, one link: 25.22 V.

    Example:
        >>> round(expected_bank_v([12.60, 12.62], 1), 2)
        25.22
    """
    for volts in batteries_v:
        within("battery", volts, -100, 100, "V")
    return sum(batteries_v) / len(batteries_v) * in_series(len(batteries_v), links)


def spread_v(batteries_v: Sequence[float]) -> float:
    """Return the volts between the fullest and the emptiest battery of a bank [V].

    Args:
        batteries_v: Volts of each battery [V], at least one.

    Returns:
        Largest less smallest [V].

    Raises:
        OutOfRange: if there is no battery.

    Source:
        Worked by hand: 12.65 and 12.50 V: 0.15 V.

    Example:
        >>> round(spread_v([12.65, 12.50]), 2)
        0.15
    """
    if not batteries_v:
        raise OutOfRange("batteries is empty; it must have at least one voltage")
    return max(batteries_v) - min(batteries_v)


def rest_window(chemistry: str, nominal_v: float = 12.0) -> RestWindow:
    """Return the window of rest voltage in which a battery is fit to be linked.

    Args:
        chemistry: ``lead``, ``agm``, ``gel`` or ``lifepo4``.
        nominal_v: Nominal volts of one battery [V], 2 to 96; the window of 12 V is scaled to it.

    Returns:
        The window [V].

    Raises:
        OutOfRange: if the chemistry is not known, or ``nominal_v`` lies outside its range.

    Source:
        This project's rule, between the published sets of rest voltages; scaled by the number of cells.

    Example:
        >>> rest_window("lead")
        RestWindow(empty_v=11.6, low_v=12.0, high_v=13.2)
    """
    within("nominal_v", nominal_v, 2, 96, "V")
    row = table("battery", "rest_window").row(chemistry=_printed_chemistry(chemistry))
    scale = nominal_v / 12.0
    return RestWindow(*(scale * number(row, key) for key in ("empty_v", "rest_low_v", "rest_high_v")))


def state_of_charge_percent(chemistry: str, rest_v: float) -> float:
    """Return how full a rested 12 V battery is by its printed table, straight lines between the rows [%].

    Only a hint: published sets for lead differ by 0.1 V, 12 % of charge, and a LiFePO4 battery rises 4.3 mV for each
    percent, less than a meter can tell.

    Args:
        chemistry: ``lead``, ``agm``, ``gel`` or ``lifepo4``.
        rest_v: Rest voltage of the battery [V], within the table.

    Returns:
        State of charge [%].

    Raises:
        OutOfRange: if the chemistry is not known or the voltage is past the table; nothing is extrapolated.

    Source:
        Flooded lead-acid: state of charge table as reprinted (quoted). LiFePO4: the measured table of four cells
        (read). Worked by hand: 12.345 V lies half-way between 12.24 V (50 %) and 12.45 V (75 %).

    Example:
        >>> round(state_of_charge_percent("lead", 12.345), 1)
        62.5
    """
    lithium = _printed_chemistry(chemistry) == "lifepo4"
    printed = table("battery", "lifepo4_rest" if lithium else "lead_acid_rest")
    return _between_rows(printed, "four_cells_v" if lithium else "rest_v", rest_v)


def _between_rows(printed: Table, key: str, rest_v: float) -> float:
    points = [(number(row, key), number(row, "state_percent")) for row in printed.rows]
    within("rest_v", rest_v, points[0][0], points[-1][0], "V")
    for (low_v, low), (high_v, high) in pairwise(points):
        if rest_v <= high_v:
            return low + (high - low) * (rest_v - low_v) / (high_v - low_v)
    return points[-1][1]


def _printed_chemistry(chemistry: str) -> str:
    if chemistry in LEAD:
        return "lead"
    if chemistry in LITHIUM:
        return "lifepo4"
    raise OutOfRange(f'chemistry is "{chemistry}"; it must be one of {", ".join(CHEMISTRIES)}')
