"""Prove dead: bands, the known source, and what no reading can excuse."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.registry import check, run
from tests.rules.judging import judged, measured

KNOWN = {"known_before": "12.6 V", "known_after": "12.6 V", "nominal": "12 V"}


@pytest.mark.parametrize(
    ("volts", "verdict"),
    [
        ("0.10", "pass"),
        ("-0.10", "pass"),
        ("0.11", "undecided"),
        ("1.0", "undecided"),
        ("1.01", "fail"),
        ("-24.9", "fail"),
    ],
)
def test_bands_of_a_point(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.10 and 1.0 V, no guard band.
    assert judged("dead", points=f"0.00; {volts}", **KNOWN).verdict == verdict


def test_coarse_meter_widens_nothing() -> None:
    # Source: this project's rule: the bands hold the meter's own offset, so there is no guard band.
    coarse = {"points": Accuracy(5, 20, 0.01)}
    assert measured("dead", coarse, points="0.09", **KNOWN).verdict is Verdict.PASS


@pytest.mark.parametrize(("when", "volts"), [("known_before", "10.79"), ("known_after", "3.2"), ("known_after", "0")])
def test_known_source_under_nine_tenths_makes_the_zeros_missing(when: str, volts: str) -> None:
    # Source: prove, test, prove again (HSE GS38 practice, quoted).
    assert judged("dead", points="0.00; 0.01", **(KNOWN | {when: volts})).verdict is Verdict.MISSING


def test_known_source_at_nine_tenths_is_enough() -> None:
    # Source: this project's rule: 0.9 x 12 V = 10.8 V.
    assert judged("dead", points="0.00", **(KNOWN | {"known_after": "10.8 V"})).verdict is Verdict.PASS


def test_spare_twelve_volt_battery_serves_a_24_volt_job() -> None:
    # Source: the known source's own nominal volts are asked, not the system's.
    assert judged("dead", points="0.00; 0.02", **KNOWN).verdict is Verdict.PASS


def test_live_point_is_a_fail_even_if_the_meter_died_afterwards() -> None:
    # Source: a live value is recorded as a fail, never as missing (this project's rule).
    found = judged("dead", points="0.00; -24.9", **(KNOWN | {"known_after": "0"}))
    assert (found.verdict, found.values["worst_v"]) == (Verdict.FAIL, -24.9)


@pytest.mark.parametrize(("loaded", "verdict"), [("0.10", "pass"), ("0.11", "fail"), ("0.4", "fail")])
def test_doubtful_point_must_fall_under_load(loaded: str, verdict: str) -> None:
    # Source: this project's rule: 0.10 to 1.0 V: load it, it must fall to 0.10 V.
    assert judged("dead", points="0.00; 0.40", loaded=loaded, **KNOWN).verdict == verdict


def test_each_doubtful_point_is_loaded() -> None:
    # Source: this project's rule.
    assert judged("dead", points="0.30; 0.40", loaded="0.01", **KNOWN).verdict is Verdict.UNDECIDED


def test_worst_point_is_named_by_its_label() -> None:
    found = judged("dead", points="red to black 0.00 V; tap A 12.4 V", **KNOWN)
    assert found.sentence == "tap A reads 12.4 V: live, over 1 V"


def test_no_points_are_missing_not_dead() -> None:
    found = run("dead", {"known_before": 12.6, "known_after": 12.6, "nominal": 12.0}, Context(profile()))
    assert (found.verdict, found.firm) == (Verdict.MISSING, True)


def test_it_never_says_that_a_wire_is_dead() -> None:
    # Source: this project's rule: it says what was typed.
    assert "dead" not in judged("dead", points="0.00; 0.01", **KNOWN).sentence


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=6), st.floats(-100, 100), st.floats(-100, 100))
def test_it_passes_only_on_three_things_together(points: list[float], before: float, after: float) -> None:
    # Source: prove, test, prove again: known source good twice, and every point at most 0.10 V.
    given_values = {"known_before": before, "points": tuple(points), "known_after": after, "nominal": 12.0}
    passed = run("dead", given_values, Context(profile())).verdict is Verdict.PASS
    assert passed == (abs(before) >= 10.8 and abs(after) >= 10.8 and all(abs(v) <= 0.10 for v in points))


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=4))
def test_no_outcome_may_be_overridden(points: list[float]) -> None:
    # Source: this project's rule: dead is firm.
    values = {"known_before": 12.6, "points": tuple(points), "known_after": 12.6, "nominal": 12.0}
    assert run("dead", values, Context(profile())).firm


def test_no_source_of_a_firm_check_is_from_memory() -> None:
    # Source: this project's rule: a firm hold rests on nothing unconfirmed.
    assert not any(source.unconfirmed for name in ("dead", "polarity", "spare-end") for source in check(name).sources)
