"""Strands, strip and pull of a wire end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.rules.check import Accuracy
from tests.rules.judging import judged, measured

EXACT = Accuracy(0, 0, 0)
STRIP = {"depth": EXACT, "strip": EXACT, "bare": EXACT}
PULL = {"force": EXACT}


@pytest.mark.parametrize(("broken", "verdict"), [("2", "pass"), ("3", "marginal"), ("6", "marginal"), ("7", "fail")])
def test_broken_by_share_of_133(broken: str, verdict: str) -> None:
    # Source: this project's rule: 2 % of 133 is 2.66, 5 % is 6.65 strands.
    assert judged("strands", size="8 AWG", strands="133", nicked="0", broken=broken).verdict == verdict


@pytest.mark.parametrize(
    ("size", "nicked", "verdict"),
    [
        ("8 AWG", "5", "pass"),
        ("8 AWG", "6", "fail"),
        ("10 AWG", "10", "pass"),
        ("10 AWG", "11", "fail"),
        ("SAE 10", "10", "pass"),
    ],
)
def test_nicked_by_share_of_a_hundred(size: str, nicked: str, verdict: str) -> None:
    # Source: this project's rule: 10 % up to 10 AWG, 5 % in coarser wire.
    assert judged("strands", size=size, strands="100", nicked=nicked, broken="0").verdict == verdict


@pytest.mark.parametrize(
    ("size", "strands", "nicked", "broken", "verdict"),
    [
        ("2 AWG", "665", "6", "6", "pass"),
        ("2 AWG", "665", "0", "7", "fail"),
        ("2 AWG", "665", "7", "0", "fail"),
        ("1/0 AWG", "1045", "0", "20", "fail"),
        ("3/0 AWG", "1665", "6", "6", "pass"),
        ("3/0 AWG", "1665", "0", "7", "fail"),
        ("4/0 AWG", "2109", "6", "6", "pass"),
        ("4/0 AWG", "2109", "7", "0", "fail"),
        ("10 AWG", "37", "0", "1", "fail"),
        ("14 AWG", "19", "2", "0", "fail"),
        ("14 AWG", "19", "1", "0", "pass"),
    ],
)
def test_never_laxer_than_the_handbook(size: str, strands: str, nicked: str, broken: str, verdict: str) -> None:
    # Source: FAA AC 43.13-1B, table 11-13 (read): 6 nicked and 6 broken from 8 AWG to 4/0, none broken below; the
    # share of this project is the stricter one in thin wire, 10 % of 19 is 1.
    assert judged("strands", size=size, strands=strands, nicked=nicked, broken=broken).verdict == verdict


@pytest.mark.parametrize(
    ("strands", "verdict"), [("7", "marginal"), ("15", "marginal"), ("16", "pass"), ("19", "pass")]
)
def test_house_wire_is_no_boat_cable(strands: str, verdict: str) -> None:
    # Source: ABYC E-11 as quoted: solid wire and less than type 2 stranding is not used; 16 strands from memory.
    assert judged("strands", size="8 AWG", strands=strands, nicked="0", broken="0").verdict == verdict


def test_aircraft_handbook_is_shown_beside_the_verdict() -> None:
    # Source: FAA AC 43.13-1B, table 11-13: 8 to 4 AWG, 133 strands: 6 nicked, 6 broken.
    found = judged("strands", size="8 AWG", strands="133", nicked="2", broken="0")
    assert (found.values["handbook_nicked"], found.values["handbook_broken"]) == (6, 6)


@pytest.mark.parametrize(("damage", "verdict"), [("none", "pass"), ("some", "marginal"), ("many", "fail")])
def test_many_strands_are_judged_by_eye(damage: str, verdict: str) -> None:
    # Source: this project's rule: none, some, many above 60 strands.
    assert judged("strands", size="8 AWG", strands="133", damage=damage).verdict == verdict


def test_few_strands_are_counted() -> None:
    # Source: this project's rule: up to 60 strands a look is not enough.
    assert judged("strands", size="14 AWG", strands="19", damage="none").verdict is Verdict.MISSING


@pytest.mark.parametrize(
    ("strip", "verdict"), [("12.5", "pass"), ("12.4", "fail"), ("16", "pass"), ("16.1", "fail"), ("14", "pass")]
)
def test_strip_window_of_a_14_mm_terminal(strip: str, verdict: str) -> None:
    # Source: this project's rule: depth - 1.5 to + 2 mm.
    assert measured("strip", STRIP, depth="14", strip=strip).verdict == verdict


def test_strip_on_its_limit_is_undecided_with_a_caliper() -> None:
    # Source: JCGM 106:2012, 8.3: U = 0.049 mm of two caliper readings.
    assert judged("strip", depth="14", strip="16").verdict is Verdict.UNDECIDED


@pytest.mark.parametrize(("bare", "verdict"), [("2", "pass"), ("2.1", "fail")])
def test_bare_copper_outside(bare: str, verdict: str) -> None:
    # Source: this project's rule: at most 2 mm.
    assert measured("strip", STRIP, depth="14", strip="14", bare=bare).verdict == verdict


def test_insulation_under_a_screw_fails_whatever_the_length() -> None:
    # Source: this project's rule: the real evidence is copper under both screws, insulation under none.
    found = judged("strip", depth="14", strip="14", held="insulation under a screw")
    assert found.verdict is Verdict.FAIL


def test_copper_under_both_screws_excuses_the_length() -> None:
    # Source: this project's rule.
    seen = "copper under every screw, no insulation"
    assert judged("strip", depth="14", strip="11", held=seen).verdict is Verdict.MARGINAL


def test_a_screw_without_copper_fails_whatever_the_length() -> None:
    # Source: this project's rule.
    assert judged("strip", depth="14", strip="14", held="a screw has no copper under it").verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("strip", "verdict"), [("3", "fail"), ("9.3", "fail"), ("9.4", "marginal"), ("19", "marginal"), ("20", "fail")]
)
def test_copper_cannot_stand_under_two_screws_of_a_short_strip(strip: str, verdict: str) -> None:
    # Source: this project's rule: two screws of a 14 mm terminal stand at about 4.7 and 9.3 mm; a strip that is
    # longer than the window by its own width again shows over 2 mm of copper outside.
    seen = "copper under every screw, no insulation"
    assert measured("strip", STRIP, depth="14", strip=strip, held=seen).verdict == verdict


@pytest.mark.parametrize(("strip", "verdict"), [("2.1", "fail"), ("3.2", "pass"), ("4.0", "pass"), ("5.4", "fail")])
def test_short_terminal_has_a_narrower_window(strip: str, verdict: str) -> None:
    # Worked by hand, an open barrel 3.5 mm deep: 3.5 - 0.12 x 3.5 = 3.08 to 3.5 + 0.15 x 3.5 = 4.03 mm.
    assert measured("strip", STRIP, depth="3.5", strip=strip).verdict == verdict


def test_strip_is_the_same_in_inches() -> None:
    # Source: 1 in = 25.4 mm by definition: 9/16 in = 14.2875 mm.
    inch = judged("strip", depth="9/16 in", strip="5/8 in")
    metric = judged("strip", depth="14.2875 mm", strip="15.875 mm")
    assert (inch.verdict, inch.sentence) == (metric.verdict, metric.sentence)


@pytest.mark.parametrize(("force", "verdict"), [("90", "pass"), ("89.9", "fail")])
def test_set_screw_holds_90_newtons_at_8_awg(force: str, verdict: str) -> None:
    # Source: UL 486E as quoted: 8 AWG, 90 N.
    assert measured("pull", PULL, size="8 AWG", force=force, seconds="60", slip="no").verdict == verdict


def test_scale_too_coarse_for_its_margin() -> None:
    # Source: JCGM 106:2012, 8.3: a hanging scale has U = 3.3 N at 91 N.
    assert judged("pull", size="8 AWG", force="91 N", seconds="60", slip="no").verdict is Verdict.UNDECIDED


def test_crimp_is_held_to_the_crimp_figure() -> None:
    # Source: ABYC E-11 table XVI: 8 AWG 45 lbf = 200 N (memory), over the set-screw's 90 N.
    assert judged("pull", size="8 AWG", force="150 N", seconds="60", slip="no", kind="crimp").verdict is Verdict.FAIL


@pytest.mark.parametrize(("seconds", "verdict"), [("60", "pass"), ("59", "fail")])
def test_pull_is_held_for_a_minute(seconds: str, verdict: str) -> None:
    # Source: ABYC E-11 and UL 486A-486B as quoted: one minute.
    assert judged("pull", size="8 AWG", force="110", seconds=seconds, slip="no").verdict == verdict


@pytest.mark.parametrize(
    "typed",
    [
        {"size": "8 AWG", "force": "400", "seconds": "60"},
        {"size": "8 AWG", "method": "hand"},
        {"size": "8 AWG"},
        {"size": "16 mm2", "force": "150", "seconds": "60"},
    ],
)
def test_a_wire_that_slips_is_a_firm_fail_at_any_force(typed: dict[str, str]) -> None:
    # Source: this project's rule: the pen mark moved, and nobody signs that away.
    found = judged("pull", **typed, slip="yes")
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)


@pytest.mark.parametrize(("size", "other"), [("12 AWG", "16 AWG"), ("16 AWG", "12 AWG")])
def test_smaller_wire_of_a_joint_is_the_one_judged(size: str, other: str) -> None:
    # Source: ABYC E-11 table XVI as quoted: 16 AWG 15 lbf = 66.7 N, 12 AWG 35 lbf = 156 N.
    found = judged("pull", size=size, other=other, force="90 N", seconds="60", slip="no", kind="crimp")
    assert (found.verdict, round(found.values["required_n"], 1)) == (Verdict.PASS, 66.7)


def test_firm_tug_by_hand_passes_with_its_grade_and_no_newtons() -> None:
    # Source: this project's rule: a firm tug by hand is a pass, grade "hand".
    found = judged("pull", size="8 AWG", method="hand", slip="no")
    assert (found.verdict, found.values["grade"]) == (Verdict.PASS, "hand")
    assert " N" not in found.sentence


def test_wire_without_a_printed_figure_asks_for_the_makers() -> None:
    # Source: nothing is put between two printed sizes.
    assert judged("pull", size="16 mm2", force="150", seconds="60", slip="no").verdict is Verdict.MISSING


def test_makers_figure_wins() -> None:
    # Source: the maker's sheet comes before any table.
    found = judged("pull", size="16 mm2", force="150", seconds="60", slip="no", specified="100 N")
    assert found.verdict is Verdict.PASS


@given(st.floats(20, 400))
def test_pull_is_the_same_in_pounds(newtons: float) -> None:
    # Source: 1 lbf = 4.4482216152605 N by definition.
    pounds = judged("pull", size="8 AWG", force=f"{newtons / 4.4482216152605:.9f} lbf", seconds="60", slip="no")
    metric = judged("pull", size="8 AWG", force=f"{newtons:.9f} N", seconds="60", slip="no")
    assert pounds.verdict is metric.verdict
