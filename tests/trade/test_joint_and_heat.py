"""A joint under load and its heat; drop of a run; scaling by the square law."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.trade.heat import enough_current as enough_to_scale
from engine.trade.heat import heat_scale, scaled_difference_k
from engine.trade.joint import current_with_joint_a, drop_at_v, joint_power_w, joint_resistance_ohm
from engine.trade.measured_drop import enough_current, measured_drop
from engine.trade.ranges import OutOfRange

AMPERES = st.floats(1, 500)
OHM = st.floats(1e-5, 1)


@pytest.mark.parametrize(("millivolts", "watts"), [(28, 1.3), (50, 2.4), (100, 4.8)])
def test_contact_figures_at_48_amperes(millivolts: float, watts: float) -> None:
    # Source: Joule's law, worked by hand to one decimal: 28, 50, 100 mV at 48 A.
    assert round(joint_power_w(joint_resistance_ohm(millivolts / 1000, 48), 48), 1) == watts


@given(st.floats(1e-5, 0.2), AMPERES)
def test_resistance_and_drop_undo_each_other(ohm: float, amperes: float) -> None:
    # Source: Ohm's law both ways.
    assert joint_resistance_ohm(drop_at_v(ohm, amperes), amperes) == pytest.approx(ohm)


@given(OHM, AMPERES, st.floats(1, 3))
def test_heat_grows_with_the_square_of_the_current(ohm: float, amperes: float, times: float) -> None:
    # Source: Joule's law.
    assert joint_power_w(ohm, amperes * times) == pytest.approx(joint_power_w(ohm, amperes) * times**2)


def test_a_corroded_joint_means_more_resistance_less_current_more_heat() -> None:
    # Common practice, no source. A 0.5 ohm load on 24 V, joint from 0.5 to 20 mohm of green copper.
    clean, corroded = 0.0005, 0.020
    with_clean, with_corroded = (current_with_joint_a(24, 0.5, joint) for joint in (clean, corroded))
    assert joint_resistance_ohm(corroded * with_corroded, with_corroded) > clean
    assert with_corroded < with_clean
    assert joint_power_w(corroded, with_corroded) > joint_power_w(clean, with_clean)


def test_measured_run_worked_by_hand() -> None:
    # Source: worked by hand: 1.10 V / 44 A = 25 mohm; less 21.43 mohm, times 48 A: 0.1714 V; times 48 A: 8.23 W.
    found = measured_drop(1.10, 0.0166, 44, 0.78, 48, 0.02143)
    assert found.resistance_ohm == pytest.approx(0.025)
    assert found.excess_v == pytest.approx(0.17136, rel=1e-4)
    assert found.excess_w == pytest.approx(8.225, rel=1e-3)


def test_uncertainty_of_the_excess_counts_volts_and_amperes() -> None:
    # Source: JCGM 100:2008, 5.1.2. By hand: 48 x root((0.0166 / 44)^2 + (1.10 x 0.78 / 44^2)^2) = 0.02796 V.
    assert measured_drop(1.10, 0.0166, 44, 0.78, 48, 0.02143).excess_u_v == pytest.approx(0.02796, rel=1e-3)


@given(st.floats(0.1, 5), AMPERES)
def test_a_run_as_predicted_has_no_excess(drop: float, amperes: float) -> None:
    # Source: definition of the excess.
    found = measured_drop(drop, 0.01, amperes, 0.1, 48, drop / amperes)
    assert found.ratio == pytest.approx(1)
    assert found.excess_v == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("amperes", "enough"), [(19.2, True), (19.19, False), (48, True)])
def test_load_test_needs_four_tenths(amperes: float, enough: bool) -> None:
    # Source: this project's rule, as thermography practice: 0.4 x 48 A = 19.2 A.
    assert enough_current(amperes, 48) is enough


@pytest.mark.parametrize(("amperes", "enough"), [(33.6, True), (33.59, False), (60, True)])
def test_heat_needs_seven_tenths(amperes: float, enough: bool) -> None:
    # Source: this project's rule: 0.7 x 48 A = 33.6 A.
    assert enough_to_scale(amperes, 48) is enough


def test_rise_at_40_amperes_scaled_to_48() -> None:
    # Source: worked by hand: (48 / 40)^2 = 1.44; 16 K x 1.44 = 23.04 K.
    assert scaled_difference_k(38, 22, 40, 48) == pytest.approx(23.04)


@given(AMPERES, AMPERES, AMPERES)
def test_scaling_in_two_steps_is_scaling_in_one(first: float, second: float, third: float) -> None:
    # Source: the square law is a power law.
    assert heat_scale(first, second) * heat_scale(second, third) == pytest.approx(heat_scale(first, third))


@given(st.floats(-20, 150), st.floats(-20, 80), AMPERES)
def test_at_rated_current_nothing_is_scaled(part: float, air: float, amperes: float) -> None:
    # Source: the square of one.
    assert scaled_difference_k(part, air, amperes, amperes) == pytest.approx(part - air)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: joint_resistance_ohm(-0.1, 48), "drop_v is -0.1 V; it must be from 0 to 100 V"),
        (lambda: joint_resistance_ohm(0.1, 0), "current_a is 0 A; it must be above 0 to 2000 A"),
        (lambda: drop_at_v(1, 2001), "rated_a is 2001 A; it must be above 0 to 2000 A"),
        (lambda: heat_scale(0, 48), "current_a is 0 A; it must be above 0 to 2000 A"),
        (lambda: scaled_difference_k(500, 20, 48, 48), "hotter_c is 500 degC; it must be from -60 to 400 degC"),
        (lambda: measured_drop(1, 0, 48, 0, 48, 0), "predicted_ohm is 0 ohm; it must be above 0 to 1000 ohm"),
        (lambda: current_with_joint_a(24, 0, 0), "circuit_ohm is 0 ohm; it must be above 0 to 1e6 ohm"),
    ],
)
def test_out_of_range_names_argument_value_and_range(call, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()
    assert str(refused.value) == sentence
