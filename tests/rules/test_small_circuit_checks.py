"""Leak, lamp, pump, pin map and sensor."""

import pytest

from engine.finding import Verdict
from engine.rules.check import Accuracy
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged, measured

EXACT = {
    name: Accuracy(0, 0, 0)
    for name in ("current", "resistance", "source", "lamp", "stall", "running", "at_pump", "ohms", "volts")
}
PUMP = {"label": "4 A", "label_fuse": "6 A", "fuse": "6 A"}
APART = "0.4; OL; OL; 0.4"


@pytest.mark.parametrize(
    ("current", "verdict"), [("1", "pass"), ("1.01", "marginal"), ("50", "marginal"), ("50.1", "fail")]
)
def test_leak_bands_in_milliamperes(current: str, verdict: str) -> None:
    # Source: common practice, 1 and 50 mA (quoted).
    assert measured("leak", EXACT, current=current).verdict == verdict


def test_named_loads_explain_a_leak() -> None:
    # Source: this project's rule: a pass if the sum of the named loads explains it.
    assert judged("leak", current="22 mA", named="22 mA").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("ohms", "verdict"),
    [
        ("OL", "pass"),
        ("10 kohm", "pass"),
        ("9.9 kohm", "marginal"),
        ("1 kohm", "marginal"),
        ("999 ohm", "fail"),
        ("9 ohm", "fail"),
    ],
)
def test_leak_bands_in_ohm(ohms: str, verdict: str) -> None:
    # Source: common practice, 10 kohm, 1 kohm, 10 ohm (quoted).
    assert measured("leak", EXACT, resistance=ohms).verdict == verdict


def test_a_few_ohm_mean_that_something_is_switched_on() -> None:
    # Source: common practice, under 10 ohm (quoted).
    assert "switched on" in measured("leak", EXACT, resistance="9 ohm").sentence


def test_over_range_stays_plain_data() -> None:
    # Source: JSON knows no infinity.
    assert judged("leak", resistance="OL").values == {"resistance_ohm": None, "over_range": True}


def test_nothing_measured_is_missing() -> None:
    assert judged("leak", named="1 mA").verdict is Verdict.MISSING


@pytest.mark.parametrize(("lamp", "verdict"), [("12.24", "pass"), ("12.23", "fail")])
def test_navigation_light_loses_three_percent_at_most(lamp: str, verdict: str) -> None:
    # Source: ABYC E-11, critical circuits (quoted): 3 % of 12 V is 0.36 V.
    assert measured("lamp", EXACT, source="12.6", lamp=lamp, kind="navigation").verdict == verdict


@pytest.mark.parametrize(("lamp", "verdict"), [("10.2", "pass"), ("10.19", "fail")])
def test_road_lamp_gets_85_percent(lamp: str, verdict: str) -> None:
    # Source: California Code of Regulations, Title 13, 1249(c): 0.85 of the design volts.
    assert measured("lamp", EXACT, source="12.6", lamp=lamp, kind="road", design="12 V").verdict == verdict


def test_lamp_on_its_limit_is_undecided_with_a_usual_meter() -> None:
    # Source: JCGM 106:2012, 8.3.
    assert judged("lamp", source="12.6", lamp="12.24", kind="navigation").verdict is Verdict.UNDECIDED


def test_24_volt_lamp_is_known_by_its_source() -> None:
    # Source: worked by hand: 0.36 V of 24 V is 1.5 %.
    found = judged("lamp", source="25.2", lamp="24.84", kind="navigation")
    assert found.values["drop_percent"] == pytest.approx(1.5)


@pytest.mark.parametrize(("fuse", "verdict"), [("6", "pass"), ("10", "fail"), ("5", "fail")])
def test_pump_has_the_fuse_of_its_label(fuse: str, verdict: str) -> None:
    # Source: common practice (quoted): a wrong fuse lets a jammed pump melt.
    assert judged("pump", **(PUMP | {"fuse": fuse})).verdict == verdict


@pytest.mark.parametrize(
    ("stall", "verdict"), [("9.6", "pass"), ("9.5", "marginal"), ("8.1", "marginal"), ("8", "fail")]
)
def test_jam_must_blow_the_fuse(stall: str, verdict: str) -> None:
    # Source: common practice, 1.6 and 1.35 times the fuse (memory): 9.6 and 8.1 A on 6 A. A label has no guard band.
    assert judged("pump", stall=stall, **PUMP).verdict == verdict


def test_measured_stall_near_its_limits() -> None:
    # Source: JCGM 106:2012, 8.3: a clamp has U = 0.8 A at 9.6 A; 1.35 and 1.6 times 6 A are 8.1 and 9.6 A.
    assert judged("pump", stall="9.6", stall_from="measured", **PUMP).verdict is Verdict.MARGINAL
    assert judged("pump", stall="8.1", stall_from="measured", **PUMP).verdict is Verdict.UNDECIDED


@pytest.mark.parametrize(("running", "verdict"), [("2", "pass"), ("1.9", "fail"), ("4.6", "pass"), ("4.7", "fail")])
def test_running_current_near_the_label(running: str, verdict: str) -> None:
    # Source: this project's rule: -50 % to +15 % of 4 A.
    assert measured("pump", EXACT, running=running, **PUMP).verdict == verdict


def test_drop_to_the_pump_counts() -> None:
    # Source: ABYC E-11, critical circuits (quoted): 3 %.
    assert judged("pump", source="12.6", at_pump="12.0", **PUMP).verdict is Verdict.FAIL


def test_impeller_is_never_held() -> None:
    # Source: this project's rule: the maker's figure, or a wedge with hands out.
    assert any("never hold an impeller" in text for text in judged("pump", **PUMP).conditions)


def test_straight_map_passes() -> None:
    # Source: common practice (quoted): wanted pairs at most 0.5 ohm above the leads, others over 1 Mohm.
    assert judged("pin-map", ohms=APART, unplugged="yes").verdict is Verdict.PASS


def test_loads_are_unplugged_first() -> None:
    # Source: this project's rule: a lamp or a coil reads like a wire.
    assert judged("pin-map", ohms=APART, unplugged="no").verdict is Verdict.MISSING


def test_crossed_plan_is_a_plan() -> None:
    # Source: the plan decides, not the numbers.
    assert judged("pin-map", ohms="OL; 0.4; 0.4; OL", map_="2; 1", unplugged="yes").verdict is Verdict.PASS


def test_swap_is_named() -> None:
    assert judged("pin-map", ohms="OL; 0.4; 0.4; OL", unplugged="yes").sentence == "contacts 1 and 2 swapped"


def test_a_pin_map_is_held_against_its_plan() -> None:
    # Source: the plan decides: 2 stays without a wire, 3 is the ground.
    plan = "1-left 2-OL 3-ground"
    assert judged("pin-map", found="1-left 2-OL 3-ground", plan=plan, unplugged="yes").verdict is Verdict.PASS
    wrong = judged("pin-map", found="1-ground 2-OL 3-left", plan=plan, unplugged="yes")
    assert (wrong.verdict, wrong.sentence) == (Verdict.FAIL, "contacts 1 and 3 swapped")


def test_pairs_without_ohms_are_said_to_be_joined_as_seen() -> None:
    # Source: this project's rule: what was not measured in ohms is named.
    seen = judged("pin-map", found="1-1 2-2=0.6", unplugged="yes").conditions
    assert seen[-1] == "1 pairs without ohms: joined as seen, at most 0.5 ohm above the leads"


def test_a_map_names_three_pairs_and_counts_the_rest() -> None:
    # Source: this project's rule: a sentence stays one line.
    nothing = judged("pin-map", found="1-OL 2-OL 3-OL 4-OL 5-OL", unplugged="yes")
    assert nothing.sentence == "not joined: 1 to 1, 2 to 2, 3 to 3 and 2 more"
    shorts = judged("pin-map", found="1-1 2-2 3-3 1-2 2-1 1-3 3-1", unplugged="yes")
    assert shorts.sentence == "joined against the plan: 1 to 2, 1 to 3, 2 to 1 and 1 more"


def test_no_map_at_all_is_missing() -> None:
    assert judged("pin-map", unplugged="yes").verdict is Verdict.MISSING


def test_readings_that_are_no_square_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^ohms has 3 readings; it must have n x n: each contact to each"):
        judged("pin-map", ohms="0.4; OL; OL", unplugged="yes")


@pytest.mark.parametrize(("last", "verdict"), [("36.3", "pass"), ("36.4", "fail"), ("29.7", "pass"), ("29.6", "fail")])
def test_sender_within_a_tenth_of_its_curve(last: str, verdict: str) -> None:
    # Source: this project's rule: 10 % of 33 ohm; 240 to 33 ohm is a usual gauge (quoted).
    assert measured("sensor", EXACT, ohms=f"240; {last}", curve="240; 33").verdict == verdict


def test_sender_without_a_curve_goes_on_with_a_reason() -> None:
    # Source: this project's rule: the maker's curve, else marginal.
    assert judged("sensor", ohms="240; 110; 34").verdict is Verdict.MARGINAL


def test_sender_that_turns_back_fails() -> None:
    # Source: common practice: a gauge needs a sender that goes one way.
    assert judged("sensor", ohms="240; 33; 110").verdict is Verdict.FAIL


def test_sensor_may_be_read_in_volts() -> None:
    # Source: a 5 V sensor, worked by hand.
    assert judged("sensor", volts="0.5; 2.5; 4.5", curve="0.5; 2.5; 4.5").values["direction"] == "rises"


def test_curve_of_another_length_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^curve has 1 figures; it must have one for each of the 2 readings$"):
        judged("sensor", ohms="240; 33", curve="240")
