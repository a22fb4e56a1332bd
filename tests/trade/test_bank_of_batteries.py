"""Links, volts, match and charge of a bank."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.published.tables import number, table
from engine.trade.bank import (
    RestWindow,
    WrongWiring,
    expected_bank_v,
    in_series,
    rest_window,
    spread_v,
    state_of_charge_percent,
)
from engine.trade.ranges import OutOfRange
from engine.trade.reading import half_width

VOLTS = st.lists(st.floats(10, 15), min_size=1, max_size=8)


@pytest.mark.parametrize(
    ("count", "links", "series"),
    [(1, 0, 1), (2, 1, 2), (2, 0, 1), (3, 2, 3), (4, 3, 4), (4, 2, 2), (6, 3, 2), (4, 0, 1)],
)
def test_links_make_strings(count: int, links: int, series: int) -> None:
    # Source: circuit theory: n batteries with L series links are n - L strings.
    assert in_series(count, links) == series


@pytest.mark.parametrize("links", [2, 3])
def test_as_many_links_as_batteries_are_a_short_circuit(links: int) -> None:
    # Source: circuit theory: a closed ring of sources has nothing but its own resistance.
    with pytest.raises(WrongWiring, match=f"^{links} links on 2 batteries close a ring: a short circuit$"):
        in_series(2, links)


def test_strings_of_different_length_are_no_bank() -> None:
    # Source: circuit theory: strings side by side must have the same volts.
    with pytest.raises(WrongWiring, match=r"^1 links on 3 batteries leave strings of different length$"):
        in_series(3, 1)


def test_series_adds() -> None:
    # Source: worked by hand: 12.60 + 12.62 = 25.22 V.
    assert expected_bank_v([12.60, 12.62], 1) == pytest.approx(25.22)


@given(VOLTS)
def test_full_series_is_the_plain_sum(volts: list[float]) -> None:
    # Source: circuit theory.
    assert expected_bank_v(volts, len(volts) - 1) == pytest.approx(sum(volts))


@given(VOLTS)
def test_full_parallel_lies_between_its_batteries(volts: list[float]) -> None:
    # Source: circuit theory.
    assert min(volts) - 1e-9 <= expected_bank_v(volts, 0) <= max(volts) + 1e-9


@given(VOLTS)
def test_spread_does_not_mind_the_order(volts: list[float]) -> None:
    # Source: the meaning of a spread.
    assert spread_v(volts) == spread_v(sorted(volts))


def test_lead_window() -> None:
    # Source: this project's rule, between the published sets: 11.6 V empty in the lowest, 12.70 V full in the highest.
    assert rest_window("agm") == RestWindow(11.6, 12.0, 13.2)


def test_window_of_a_six_volt_battery_is_half() -> None:
    # Source: three cells instead of six.
    assert rest_window("lead", 6) == RestWindow(5.8, 6.0, 6.6)


def test_window_of_lithium_is_its_own() -> None:
    # Source: this project's rule, 12.8 to 13.6 V for four cells.
    assert rest_window("lifepo4").low_v == 12.8


@pytest.mark.parametrize("row", table("battery", "lead_acid_rest").rows)
def test_charge_of_lead_at_each_printed_row(row) -> None:
    # Source: the published state of charge table, as reprinted (quoted).
    assert state_of_charge_percent("lead", number(row, "rest_v")) == pytest.approx(number(row, "state_percent"))


@pytest.mark.parametrize("row", table("battery", "lifepo4_rest").rows)
def test_charge_of_lithium_at_each_measured_row(row) -> None:
    # Source: the measured open-circuit table of four LiFePO4 cells (read).
    percent = state_of_charge_percent("lifepo4", number(row, "four_cells_v"))
    assert percent == pytest.approx(number(row, "state_percent"), abs=1e-9)


def test_meter_of_one_percent_cannot_tell_fifteen_percent_of_charge() -> None:
    # Source: worked example as quoted: 1 % of 12 V is 0.12 V, at 0.08 V for each 10 % it is 15 % of charge.
    row = table("battery", "meter_limits").rows[0]
    half = half_width(number(row, "battery_v"), number(row, "meter_percent"), 0, 0)
    percent = half / number(row, "slope_v_per_10_percent") * 10
    assert percent == pytest.approx(number(row, "uncertainty_percent_of_charge"))


@pytest.mark.parametrize("volts", [11.8, 12.7])
def test_charge_is_never_extrapolated(volts: float) -> None:
    with pytest.raises(OutOfRange, match=r"it must be from 11\.89 to 12\.65 V$"):
        state_of_charge_percent("lead", volts)


def test_unknown_chemistry_is_named() -> None:
    with pytest.raises(OutOfRange, match=r'^chemistry is "nickel"; it must be one of lead, agm, gel, lifepo4$'):
        rest_window("nickel")
