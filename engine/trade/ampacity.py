"""What a conductor may carry, and how warm it gets: table 5 with its factors, and the heat balance behind it."""

import math
from functools import cache

from engine.published.tables import Row, number, table
from engine.trade.conductor import area_mm2, awg_area_mm2, awg_number
from engine.trade.ranges import OutOfRange, within

INSULATIONS_C = (60, 75, 80, 90, 105, 125, 200)
"""Columns of the table. Source: 33 CFR 183.425, table 5."""

TABLE_AMBIENT_C = 30.0
"""Air outside an engine space that table 5 stands for. Source: guidance to 33 CFR 183.425, as quoted."""

ENGINE_SPACE_AMBIENT_C = 50.0
"""Air of an engine space. Source: guidance to 33 CFR 183.425, as quoted."""


@cache
def insulation_column_c(insulation_c: float) -> int:
    """Return the column of table 5 that an insulation falls under [degC].

    Args:
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.

    Returns:
        The highest column that is not above it: nothing is read between two columns [degC].

    Raises:
        OutOfRange: if the rating is not from 60 to 250.

    Source:
        33 CFR 183.425, table 5.

    Example:
        >>> insulation_column_c(85)
        80
    """
    within("insulation", insulation_c, 60, 250, "degC")
    return max(column for column in INSULATIONS_C if column <= insulation_c)


@cache
def table_allowable_a(size: str, insulation_c: float) -> float:
    """Return the allowable current of a size in free air of 30 degC [A], before any factor.

    Args:
        size: Label of the wire: ``8 AWG``, ``SAE 10``, ``16 mm2`` [as marked].
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.

    Returns:
        The figure of the row. AWG and SAE go by their number, since 183.430 takes SAE wire under the same table; a
        size without a row, and every mm2 size, goes by the largest row whose AWG area is not above it [A].

    Raises:
        OutOfRange: if the size is smaller than the table's least row, or the rating is not from 60 to 250.

    Source:
        33 CFR 183.425(b), table 5; 183.430(a).

    Example:
        >>> [table_allowable_a(size, 105) for size in ("8 AWG", "SAE 8", "10 mm2", "5 AWG")]
        [80.0, 80.0, 80.0, 120.0]
    """
    row = _row(size)
    if row is None:
        raise OutOfRange(f"size is {size}; it must be 18 AWG or larger, the least row that is printed")
    return number(row, f"allowable_a_{insulation_column_c(insulation_c)}C")


@cache
def in_table(size: str) -> bool:
    """Return whether table 5 has a row that a size may go by.

    Args:
        size: Label of the wire [as marked].

    Returns:
        False for sizes under 18 AWG.

    Raises:
        OutOfRange: if the size is not known.

    Source:
        33 CFR 183.425(b), table 5.

    Example:
        >>> in_table("8 AWG"), in_table("22 AWG")
        (True, False)
    """
    return _row(size) is not None


def table_sizes() -> tuple[str, ...]:
    """Return the AWG sizes of table 5, small to large.

    Returns:
        Their labels.

    Source:
        33 CFR 183.425(b), table 5.

    Example:
        >>> table_sizes()[0], table_sizes()[-1]
        ('18 AWG', '4/0 AWG')
    """
    return tuple(f"{awg} AWG" for awg in table("conductor_current", "table5").column("awg"))


@cache
def engine_space_factor(insulation_c: float) -> float:
    """Return the factor for a wire that runs through an engine space [no unit].

    Args:
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.

    Returns:
        The printed factor of its column.

    Raises:
        OutOfRange: if the rating is not from 60 to 250.

    Source:
        33 CFR 183.425(c), table 5 note 1.

    Example:
        >>> engine_space_factor(105)
        0.85
    """
    found = table("conductor_current", "engine_space").row(insulation_c=insulation_column_c(insulation_c))
    return number(found, "factor")


def ambient_factor(insulation_c: float, ambient_c: float) -> float:
    """Return the factor for air warmer than the 30 degC of the table [no unit].

    Args:
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.
        ambient_c: Warmest air around the wire [degC], -40 to below the rating.

    Returns:
        sqrt((Ti - Ta) / (Ti - 30)) above 30 degC; 1 at and below, since the table gives no credit for cold.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Heat balance: rise goes with the square of the current. At 50 degC it is the printed factor of table 5 note 1
        to within 0.007 in six of seven columns (200 degC: 0.94 against a printed 1.00).

    Example:
        >>> round(ambient_factor(105, 50), 2)
        0.86
    """
    column = insulation_column_c(insulation_c)
    within("ambient", ambient_c, -40, column - 1, "degC")
    if ambient_c <= TABLE_AMBIENT_C:
        return 1.0
    return math.sqrt((column - ambient_c) / (column - TABLE_AMBIENT_C))


@cache
def bundle_factor(loaded_conductors: float) -> float:
    """Return the factor for loaded conductors lying in one bundle, cable or duct [no unit].

    Args:
        loaded_conductors: How many of them carry current at the same time [count], 1 to 500.

    Returns:
        The printed factor; 1 up to two conductors.

    Raises:
        OutOfRange: if the count is not a whole number from 1 to 500.

    Source:
        33 CFR 183.425, table 5 note 2.

    Example:
        >>> [bundle_factor(n) for n in (2, 3, 6, 7, 25)]
        [1.0, 0.7, 0.6, 0.5, 0.4]
    """
    within("bundled", loaded_conductors, 1, 500, "conductors")
    if loaded_conductors != int(loaded_conductors):
        raise OutOfRange(f"bundled is {loaded_conductors:g} conductors; it must be a whole number")
    reached = [
        row for row in table("conductor_current", "bundling").rows if number(row, "conductors_min") <= loaded_conductors
    ]
    return number(reached[-1], "factor") if reached else 1.0


def working_temperature_c(
    current_a: float, allowable_a: float, insulation_c: float, ambient_c: float = TABLE_AMBIENT_C
) -> float:
    """Return the temperature that a wire settles at under a steady current [degC].

    Args:
        current_a: The steady current [A], 0 to 100000.
        allowable_a: What it may carry in 30 degC air, with the bundle's factor [A], above 0.
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.
        ambient_c: Air around it [degC], -40 to 120.

    Returns:
        T = ambient + (insulation - 30) (I / I_allow)^2 [degC].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Heat balance, rise with the square of the current; 30 degC is the air of the table. Worked by hand: 48 A in
        8 AWG of 80 A at 105 degC: 30 + 75 x 0.36 = 57 degC.

    Example:
        >>> working_temperature_c(48, 80, 105)
        57.0
    """
    within("current_a", current_a, 0, 100000, "A")
    within("allowable_a", allowable_a, 0.001, 100000, "A")
    within("ambient", ambient_c, -40, 120, "degC")
    column = insulation_column_c(insulation_c)
    return ambient_c + (column - TABLE_AMBIENT_C) * (current_a / allowable_a) ** 2


def _row(size: str) -> Row | None:
    rows = table("conductor_current", "table5").rows
    by_number = size.removesuffix(" AWG").removeprefix("SAE ")
    named = [row for row in rows if row["awg"] == by_number]
    if named:
        return named[0]
    area = area_mm2(size)
    smaller = [row for row in rows if awg_area_mm2(awg_number(str(row["awg"]))) <= area]
    return smaller[-1] if smaller else None
