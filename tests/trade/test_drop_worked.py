"""Voltage drop to the printed digits of the worked figures, and against aircraft practice."""

import pytest

from engine.published.tables import number, table
from engine.trade.conductor import area_mm2, resistance_ohm_per_m
from engine.trade.drop import run_drop
from engine.trade.ranges import OutOfRange

ONE_WAY_M = (2, 3, 5.2, 6, 8)

PERCENT = {
    "10 AWG": (2.72, 4.08, 7.07, 8.15, 10.87),
    "8 AWG": (1.71, 2.56, 4.44, 5.13, 6.84),
    "6 AWG": (1.07, 1.61, 2.79, 3.22, 4.30),
    "4 AWG": (0.68, 1.01, 1.76, 2.03, 2.70),
    "2 AWG": (0.43, 0.64, 1.11, 1.28, 1.70),
}
"""48 A, 24 V, copper at 29.3 degC, by one-way length. Worked by hand: 48 x 0.017872 x 2 L / A / 24."""


@pytest.mark.parametrize("size", PERCENT)
@pytest.mark.parametrize("column", range(5))
def test_the_table_of_drops_is_hit_to_its_last_digit(size: str, column: int) -> None:
    length = ONE_WAY_M[column]
    found = 100 * run_drop(48, size, length, length).drop_v / 24
    assert found == pytest.approx(PERCENT[size][column], abs=0.00501)


@pytest.mark.parametrize(
    ("size", "percent", "celsius"), [("8 AWG", 4.91, 57), ("6 AWG", 2.93, 42), ("4 AWG", 1.81, 36.75)]
)
def test_hot_drops_are_those_of_the_temperature_that_the_load_makes(size: str, percent: float, celsius: float) -> None:
    found = run_drop(48, size, 5.2, 5.2)
    assert found.hot_drop_v is not None
    assert found.hot_temperature_c == pytest.approx(celsius)
    assert 100 * found.hot_drop_v / 24 == pytest.approx(percent, abs=0.005)


@pytest.mark.parametrize(("celsius", "percent"), [(20, 4.29), (29.3, 4.44), (75, 5.21)])
def test_the_assumed_temperature_moves_the_figure(celsius: float, percent: float) -> None:
    """8 AWG, 48 A, 5.2 m each way, 24 V; worked by hand."""
    ohm = resistance_ohm_per_m(area_mm2("8 AWG"), celsius) * 10.4
    assert 100 * 48 * ohm / 24 == pytest.approx(percent, abs=0.005)


@pytest.mark.parametrize(
    ("amperes", "size", "length", "volts", "percent"),
    [(4, "14 AWG", 6, 12, 3.44), (4, "12 AWG", 6, 12, 2.16), (2.1, "16 AWG", 9, 12, 4.30)],
)
def test_pump_and_lamp_runs_are_as_worked(
    amperes: float, size: str, length: float, volts: float, percent: float
) -> None:
    """A 4 A bilge pump at 6 m and a 2.1 A lamp at 9 m; worked by hand."""
    found = run_drop(amperes, size, length, length)
    assert 100 * found.drop_v / volts == pytest.approx(percent, abs=0.006)


@pytest.mark.parametrize(("size", "amperes"), [("14 AWG", 153), ("12 AWG", 230), ("10 AWG", 336)])
def test_a_tap_landed_wrong_draws_what_was_worked(size: str, amperes: float) -> None:
    """A 12 V tap shorted over a 9 m loop at 20 degC, battery of 8 mohm; worked by hand."""
    ohm = 0.008 + 9 * resistance_ohm_per_m(area_mm2(size), 20)
    assert 12.6 / ohm == pytest.approx(amperes, abs=0.6)


def test_the_aircraft_example_is_its_own_arithmetic() -> None:
    """FAA AC 43.13-1B table 11-7, first row: 107 ft x 0.00044 ohm/ft x 20 A is 0.942 V."""
    row = table("aircraft_wire", "example_table_11_7").rows[0]
    volts = number(row, "run_length_ft") * number(row, "resistance_ohm_per_ft") * number(row, "current_a")
    assert volts == pytest.approx(number(row, "printed_drop_v"), abs=0.0005)


def test_the_aircraft_wire_of_the_example_is_a_ninth_poorer_than_bare_copper() -> None:
    """0.44 ohm per 1000 ft is the most that tin-plated 6 AWG may have at 20 degC; bare annealed copper has 0.395."""
    row = table("aircraft_wire", "example_table_11_7").rows[0]
    ours = run_drop(number(row, "current_a"), "6 AWG", 107 * 0.3048, 0).drop_v
    assert ours < number(row, "printed_drop_v")
    assert number(row, "printed_drop_v") / ours == pytest.approx(1.075, abs=0.005)


def test_the_misprint_of_the_aircraft_table_is_not_ours() -> None:
    """FAA AC 43.13-1B table 11-8, second row prints .366 V for 0.00126 x 19.5 x 20."""
    figures = table("aircraft_wire", "misprint_table_11_8").figures
    assert number(figures, "recomputed_drop_v") == pytest.approx(0.00126 * 19.5 * 20)
    assert number(figures, "printed_drop_v") == 0.366


@pytest.mark.parametrize("row", table("aircraft_wire", "table_11_9").rows, ids=lambda row: str(row["awg"]))
def test_aircraft_resistances_lie_above_bare_copper(row: dict[str, float]) -> None:
    """FAA AC 43.13-1B table 11-9, the most that tin-plated stranded wire may have at 20 degC: up to 30 % over solid."""
    solid = resistance_ohm_per_m(area_mm2(f"{row['awg']} AWG"), 20) * 304.8
    assert 0.97 < number(row, "max_resistance_ohm_per_1000ft_20C") / solid < 1.30


GAUGES = ("18", "16", "14", "12", "10", "8", "6", "4", "2", "1")


def gauge_for(circular_mil: float) -> str:
    """Return the smallest gauge of at least that area."""
    rows = table("conductor_size", "sae_minimum_area")
    areas = {g: number(rows.row(gauge=g), "sae_min_circular_mil") for g in GAUGES}
    return next(g for g in GAUGES if areas[g] >= circular_mil)


@pytest.mark.parametrize(
    "row", table("drop_class", "table_ix_12v_3_percent").rows, ids=lambda row: f"{row['current_a']} A"
)
def test_the_printed_table_of_gauges_follows_from_the_formula(row: dict[str, tuple[str, ...]]) -> None:
    """ABYC E-11 table IX as quoted: CM = 10.75 I L / 0.36 V; one cell, 15 A at 60 ft, is printed a size low."""
    lengths = table("drop_class", "table_ix_12v_3_percent").figures["lengths_ft"]
    wanted = [gauge_for(10.75 * number(row, "current_a") * float(feet) / 0.36) for feet in lengths]
    odd = [feet for feet, ours, printed in zip(lengths, wanted, row["awg"], strict=True) if ours != printed]
    assert odd == ([60] if row["current_a"] == 15 else [])


def test_joints_in_the_run_add_their_volts() -> None:
    plain, with_joints = run_drop(48, "8 AWG", 5.2, 5.2), run_drop(48, "8 AWG", 5.2, 5.2, extra_ohm=0.004)
    assert with_joints.drop_v - plain.drop_v == pytest.approx(0.192)


def test_a_wire_under_the_table_is_taken_at_its_jackets_own_temperature() -> None:
    found = run_drop(1, "22 AWG", 3, 3)
    assert (found.hot_temperature_c, found.allowable_a) == (105, None)


def test_a_load_far_over_the_wire_has_no_hot_value() -> None:
    """30 + 75 x (150 / 35)^2 is far over the 300 degC that the sum goes to."""
    found = run_drop(150, "14 AWG", 3, 3)
    assert found.hot_drop_v is None
    assert found.hot_temperature_c > 1000


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"current_a": -1}, "load is -1 A; it must be from 0 to 100000 A"),
        ({"out_m": -0.1}, "out is -0.1 m; it must be from 0 to 1000 m"),
        ({"back_m": float("inf")}, "back is inf m; it must be from 0 to 1000 m"),
        ({"extra_ohm": 11}, "extra is 11 ohm; it must be from 0 to 10 ohm"),
        ({"ambient_c": 121}, "ambient is 121 degC; it must be from -40 to 120 degC"),
        ({"size": "9/0 AWG"}, "size is 9/0 AWG; it must be from 36 AWG to 4/0 AWG"),
    ],
)
def test_out_of_range_is_a_sentence(given: dict[str, float], said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        run_drop(**({"current_a": 48, "size": "8 AWG", "out_m": 5.2, "back_m": 5.2} | given))
    assert str(refused.value) == said
