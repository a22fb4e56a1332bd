"""The torque that a screw was set to."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("torque", "verdict"), [("3.6", "pass"), ("4.4", "pass"), ("3.59", "fail"), ("4.41", "fail"), ("4", "pass")]
)
def test_window_around_the_makers_figure(torque: str, verdict: str) -> None:
    # Source: UL 486A-486B, within 10 % (quoted). No guard band: it is the set value.
    assert judged("torque", torque=torque, specified="4 N m").verdict == verdict


def test_no_driver_is_not_measured() -> None:
    # Source: this project's rule: then joint and heat are a must.
    found = judged("torque", specified="4 N m")
    assert (found.verdict, found.conditions) == (Verdict.MISSING, ("joint and heat are then a must",))


def test_no_torque_is_ever_derived_from_the_key_of_a_contact() -> None:
    # Source: the hex-key table is for lugs and connector blocks; it would strip a small brass contact.
    found = judged("torque", torque="13.6 N m", hex="3/16 in")
    assert (found.verdict, found.values) == (Verdict.MISSING, {})


def test_lug_takes_the_key_table() -> None:
    # Source: NFPA 70 informative annex I, table I.3: 3/16 in: 120 lbf in = 13.56 N m.
    found = judged("torque", torque="13.6 N m", hex="3/16 in", kind="lug")
    assert (found.verdict, found.values["specified_lbf_in"]) == (Verdict.PASS, pytest.approx(120))


def test_lug_with_a_key_between_two_rows_has_no_figure() -> None:
    # Source: table I.3 prints no 5 mm key.
    assert judged("torque", torque="13 N m", hex="5 mm", kind="lug").verdict is Verdict.MISSING


def test_makers_figure_wins_over_the_key() -> None:
    # Source: NFPA 70 informative annex I: the maker's torque comes first.
    found = judged("torque", torque="6 N m", specified="6 N m", hex="3/16 in", kind="lug")
    assert found.values["specified_nm"] == 6


def test_greased_threads_need_a_reason() -> None:
    # Source: common practice (quoted): same torque, more clamp.
    assert judged("torque", torque="4", specified="4", greased="yes").verdict is Verdict.MARGINAL


def test_greased_and_over_still_fails() -> None:
    # Source: the window comes first.
    assert judged("torque", torque="5", specified="4", greased="yes").verdict is Verdict.FAIL


def test_torque_is_the_same_in_pound_inches() -> None:
    # Source: 1 lbf in = 0.1129848 N m by definition: 35.4 lbf in = 4.0 N m.
    pounds = judged("torque", torque="35.4 lbf in", specified="35 lbf in")
    assert (pounds.verdict, pounds.sentence) == (Verdict.PASS, "set to 4 N m, within 3.56 to 4.35 N m")


def test_pound_feet_taken_for_pound_inches_fail() -> None:
    # Source: 35 lbf ft is twelve times 35 lbf in.
    assert judged("torque", torque="35 lbf ft", specified="35 lbf in").verdict is Verdict.FAIL
