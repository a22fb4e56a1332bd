"""Dead points, leaks, lamps, pumps and senders: the small sums."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.trade.dead import known_source_good, point_says
from engine.trade.lamp import drop_percent, filament_light_percent, system_nominal_v
from engine.trade.leak import leak_current_a, unexplained_a
from engine.trade.pump import running_share, stall_ratio
from engine.trade.ranges import OutOfRange
from engine.trade.sensor import direction, off_curve_percent


@pytest.mark.parametrize(
    ("volts", "says"),
    [(0.0, "dead"), (0.10, "dead"), (0.101, "load it"), (1.0, "load it"), (1.001, "live"), (24.9, "live")],
)
def test_point_at_each_band(volts: float, says: str) -> None:
    # Source: this project's rule, 0.10 and 1.0 V, no guard band.
    assert point_says(volts) == says


@given(st.floats(-1000, 1000))
def test_sign_of_a_point_does_not_matter(volts: float) -> None:
    # Source: a live wire is live with either sign.
    assert point_says(volts) == point_says(-volts)


@pytest.mark.parametrize(("volts", "good"), [(10.8, True), (10.79, False), (-12.6, True), (0.0, False)])
def test_known_source_needs_nine_tenths(volts: float, good: bool) -> None:
    # Source: prove, test, prove again (HSE GS38 practice, quoted); the share of 0.9 is this project's rule.
    assert known_source_good(volts, 12) is good


def test_named_loads_explain_a_current() -> None:
    # Source: worked by hand: 22 mA less a radio of 20 mA.
    assert unexplained_a(0.022, 0.020) == pytest.approx(0.002)


def test_named_loads_never_leave_less_than_nothing() -> None:
    # Source: labels round up.
    assert unexplained_a(0.018, 0.020) == 0


def test_ten_kilohm_across_twelve_volts() -> None:
    # Source: Ohm's law: 1.2 mA, so the limits in ohm and in mA are neighbours.
    assert leak_current_a(12, 10_000) == pytest.approx(0.0012)


def test_three_percent_of_twelve_volts() -> None:
    # Source: worked by hand: 0.36 V of 12 V.
    assert drop_percent(12.60, 12.24, 12) == pytest.approx(3.0)


def test_five_percent_of_volts_cost_sixteen_percent_of_light() -> None:
    # Source: common practice, light with the 3.4th power of volts (quoted): 0.95^3.4 = 0.840.
    assert 100 - filament_light_percent(0.95) == pytest.approx(16, abs=0.1)  # stated in whole percent


@pytest.mark.parametrize(("volts", "nominal"), [(12.6, 12), (14.4, 12), (17.9, 12), (18, 24), (25.2, 24)])
def test_system_by_its_volts(volts: float, nominal: float) -> None:
    # Source: this project's rule, half-way between 12 and 24 V.
    assert system_nominal_v(volts) == nominal


def test_system_of_36_volts_must_be_said() -> None:
    with pytest.raises(OutOfRange, match=r"^source is 37\.8 V; it must be from 8 to 32 V, or say what the lamp"):
        system_nominal_v(37.8)


def test_jammed_pump_over_its_fuse() -> None:
    # Source: worked by hand: 12 A on a 6 A fuse.
    assert stall_ratio(12, 6) == 2


def test_running_pump_against_its_label() -> None:
    # Source: worked by hand: 3.2 A of 4 A.
    assert running_share(3.2, 4) == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("readings", "way"), [((240, 110, 33), -1), ((33, 110, 240), 1), ((240, 33, 110), 0), ((100, 100), 0)]
)
def test_sender_goes_one_way(readings: tuple[float, ...], way: int) -> None:
    # Source: common practice: a gauge needs a sender that goes one way; 240 to 33 ohm is a usual range (quoted).
    assert direction(readings) == way


def test_a_step_smaller_than_the_meter_can_tell_does_not_count() -> None:
    # Source: worked by hand: 1 ohm of change with 2 ohm of doubt.
    assert direction([100, 101], 2) == 0


@given(st.lists(st.floats(0, 1000), min_size=2, max_size=6))
def test_turning_the_states_round_turns_the_direction(readings: list[float]) -> None:
    # Source: symmetry.
    assert direction(readings) == -direction(readings[::-1])


def test_off_the_curve() -> None:
    # Source: worked by hand: 36 where 33 is due: 9.09 %.
    assert off_curve_percent(36, 33) == pytest.approx(9.0909, rel=1e-4)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: point_says(1001), "volts is 1001 V; it must be from -1000 to 1000 V"),
        (lambda: direction([1]), "there are 1 readings; two states or more are needed"),
        (lambda: off_curve_percent(1, 0), "curve is 0; a figure of the gauge's curve must not be zero"),
        (lambda: unexplained_a(101, 0), "current_a is 101 A; it must be from 0 to 100 A"),
        (lambda: stall_ratio(12, 0), "fuse_a is 0 A; it must be from 0.1 to 500 A"),
        (lambda: filament_light_percent(2), "share_of_volts is 2; it must be from 0.5 to 1.2"),
    ],
)
def test_out_of_range_is_one_sentence(call, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()
    assert str(refused.value) == sentence
