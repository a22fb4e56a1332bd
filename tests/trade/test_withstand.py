"""How long a wire bears a short, and how long fuse or breaker let it flow."""

import pytest

from engine.published.tables import number, table
from engine.trade.withstand import adiabatic_k, trip_s, withstand_s

PRINTED = table("conductor_heating", "adiabatic_k").rows


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: str(row["insulation"]))
def test_the_constant_is_the_printed_one(row: dict[str, float]) -> None:
    """IEC 60949 and IEC 60364-5-54, as quoted, are printed to three figures."""
    assert adiabatic_k(number(row, "initial_c"), number(row, "final_c")) == pytest.approx(number(row, "k"), abs=0.6)


def test_an_area_by_the_standard_s_form_bears_its_own_time() -> None:
    """S = I sqrt(t) / k: 1250 A for 0.4 s with k = 115 want 6.874 mm2; worked by hand."""
    assert withstand_s(6.874, 1250, 70, 75) == pytest.approx(0.4, rel=0.01)


def test_a_wire_that_is_as_hot_already_bears_nothing() -> None:
    assert withstand_s(8.37, 300, 160, 105) == 0


def test_a_jacket_for_more_heat_bears_longer() -> None:
    assert withstand_s(8.37, 300, 90, 125) > withstand_s(8.37, 300, 90, 105)


@pytest.mark.parametrize("kind", ["breaker", "fuse"])
def test_half_the_current_takes_four_times_as_long(kind: str) -> None:
    assert trip_s(kind, 60, 180) == pytest.approx([4 * seconds for seconds in trip_s(kind, 60, 360)])
