"""Allowable current and the temperature that a load brings a wire to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.published.tables import number, table
from engine.trade.ampacity import (
    ENGINE_SPACE_AMBIENT_C,
    INSULATIONS_C,
    ambient_factor,
    bundle_factor,
    engine_space_factor,
    in_table,
    insulation_column_c,
    table_allowable_a,
    table_sizes,
    working_temperature_c,
)
from engine.trade.conductor import area_mm2
from engine.trade.ranges import OutOfRange


@pytest.mark.parametrize(
    ("size", "row"), [("16 mm2", "6"), ("10 mm2", "8"), ("6 mm2", "10"), ("4 mm2", "12"), ("2.5 mm2", "14")]
)
def test_a_metric_size_goes_by_the_next_smaller_row(size: str, row: str) -> None:
    """33 CFR 183.425 table 5 has AWG rows only; nothing is read between two of them."""
    assert table_allowable_a(size, 105) == table_allowable_a(f"{row} AWG", 105)
    assert area_mm2(size) >= area_mm2(f"{row} AWG")


def test_automotive_wire_goes_by_its_number() -> None:
    """33 CFR 183.430(a) takes SAE J1127 and J1128 wire under the same table."""
    assert table_allowable_a("SAE 8", 105) == 80


@pytest.mark.parametrize(("printed", "column"), [(60, 60), (74, 60), (85, 80), (90, 90), (110, 105), (250, 200)])
def test_an_insulation_between_two_columns_takes_the_lower(printed: float, column: int) -> None:
    assert insulation_column_c(printed) == column


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (
            lambda: table_allowable_a("20 AWG", 105),
            "size is 20 AWG; it must be 18 AWG or larger, the least row that is printed",
        ),
        (
            lambda: table_allowable_a("0.75 mm2", 105),
            "size is 0.75 mm2; it must be 18 AWG or larger, the least row that is printed",
        ),
        (lambda: insulation_column_c(59), "insulation is 59 degC; it must be from 60 to 250 degC"),
        (lambda: bundle_factor(0), "bundled is 0 conductors; it must be from 1 to 500 conductors"),
        (lambda: bundle_factor(2.5), "bundled is 2.5 conductors; it must be a whole number"),
        (lambda: ambient_factor(60, 60), "ambient is 60 degC; it must be from -40 to 59 degC"),
        (lambda: working_temperature_c(10, 0, 105), "allowable_a is 0 A; it must be from 0.001 to 100000 A"),
    ],
)
def test_what_no_table_prints_is_refused(call: object, said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()  # type: ignore[operator]
    assert str(refused.value) == said


@pytest.mark.parametrize(
    ("count", "factor"), [(1, 1), (2, 1), (3, 0.7), (4, 0.6), (6, 0.6), (7, 0.5), (24, 0.5), (25, 0.4), (500, 0.4)]
)
def test_a_bundle_takes_the_printed_factor(count: int, factor: float) -> None:
    """33 CFR 183.425 table 5 note 2."""
    assert bundle_factor(count) == factor


@pytest.mark.parametrize("insulation", [c for c in INSULATIONS_C if c != 200])
def test_the_heat_balance_gives_the_printed_engine_space_factors(insulation: int) -> None:
    """33 CFR 183.425 table 5 note 1, at the 50 degC of its guidance: within 0.007 of sqrt((Ti - 50) / (Ti - 30))."""
    assert ambient_factor(insulation, ENGINE_SPACE_AMBIENT_C) == pytest.approx(
        engine_space_factor(insulation), abs=0.007
    )


def test_the_hottest_column_is_printed_without_any_factor() -> None:
    """33 CFR 183.425 table 5 note 1 prints 1.00 at 200 degC, where the heat balance gives 0.94."""
    assert engine_space_factor(200) == 1.0
    assert ambient_factor(200, 50) == pytest.approx(0.94, abs=0.005)


def test_cold_air_gives_no_credit() -> None:
    assert ambient_factor(105, -20) == 1.0


@pytest.mark.parametrize(
    ("amperes", "allowable", "celsius"), [(48, 80, 57), (48, 120, 42), (48, 160, 36.75), (80, 80, 105), (0, 80, 30)]
)
def test_a_wire_settles_where_the_square_of_the_current_puts_it(
    amperes: float, allowable: float, celsius: float
) -> None:
    """Worked by hand: 30 + 75 (I / I_allow)^2."""
    assert working_temperature_c(amperes, allowable, 105) == pytest.approx(celsius)


def test_a_wire_in_an_engine_space_at_its_factor_just_reaches_its_rating() -> None:
    """Closes the ring: 0.85 x 80 A in 50 degC air is 104 degC, one degree under the jacket's 105."""
    assert working_temperature_c(0.85 * 80, 80, 105, 50) == pytest.approx(104.2, abs=0.05)


def test_sizes_below_the_table_are_known_as_such() -> None:
    assert [in_table(size) for size in ("18 AWG", "SAE 18", "20 AWG", "0.75 mm2", "1 mm2")] == [
        True,
        True,
        False,
        False,
        True,
    ]


@pytest.mark.parametrize("insulation", INSULATIONS_C)
def test_more_copper_never_carries_less(insulation: int) -> None:
    allowed = [table_allowable_a(size, insulation) for size in table_sizes()]
    assert allowed == sorted(allowed)


@given(
    insulation=st.sampled_from(INSULATIONS_C),
    cooler=st.floats(-40, 59),
    hotter=st.floats(-40, 59),
    fewer=st.integers(1, 60),
    more=st.integers(1, 60),
)
def test_allowable_current_falls_with_warm_air_and_with_company(
    insulation: float, cooler: float, hotter: float, fewer: int, more: int
) -> None:
    cooler, hotter = sorted((cooler, hotter))
    fewer, more = sorted((fewer, more))
    easy = ambient_factor(insulation, cooler) * bundle_factor(fewer)
    assert ambient_factor(insulation, hotter) * bundle_factor(more) <= easy


AIRCRAFT_FUSES = [row for row in table("aircraft_wire", "table_11_3").rows if row["awg"] not in ("22", "20")]
"""The boat table begins at 18 AWG."""


@pytest.mark.parametrize("row", AIRCRAFT_FUSES, ids=lambda row: str(row["awg"]))
def test_the_aircraft_fuse_chart_never_exceeds_the_boat_table(row: dict[str, float]) -> None:
    """FAA AC 43.13-1B table 11-3: its fuses protect wire in hot bundles, so they lie at or under the boat figures."""
    assert number(row, "fuse_a") <= table_allowable_a(f"{row['awg']} AWG", 105)
