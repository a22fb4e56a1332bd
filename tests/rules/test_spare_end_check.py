"""Spare ends that stay in place."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged

QUIET = {"to_negative": "0.00; 0.01", "to_positive": "0.00; 0.00", "capped": "yes"}


def test_taps_of_the_former_12_volt_system_stay_off_the_24_volt_receptacle_capped_and_tagged() -> None:
    # Common practice, no source.
    assert judged("spare-end", removed="yes", tagged="yes", **QUIET).verdict is Verdict.PASS
    landed = QUIET | {"to_negative": "12.5; 0.00", "to_positive": "-12.5; 0.00"}
    assert judged("spare-end", removed="no", tagged="yes", **landed).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("volts", "verdict"),
    [("0.10", "pass"), ("0.11", "undecided"), ("1.0", "undecided"), ("1.01", "fail"), ("-12.6", "fail")],
)
def test_bands_of_each_end(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.10 V to both poles, as for a dead point.
    found = judged("spare-end", **(QUIET | {"to_positive": f"0.00; {volts}"}))
    assert (found.verdict, found.firm) == (verdict, True)


@pytest.mark.parametrize(("loaded", "verdict"), [("0.02", "pass"), ("11.9", "fail")])
def test_load_tells_a_floating_damp_wire_from_a_live_one(loaded: str, verdict: str) -> None:
    # Source: Ohm's law: 12.6 V behind 1 Mohm of damp fall to 0.013 V across 1 kohm.
    found = judged("spare-end", loaded=loaded, **(QUIET | {"to_negative": "6.3; 0.00"}))
    assert found.verdict == verdict


def test_ends_are_capped() -> None:
    # Source: 33 CFR 183.445(b), live ends covered; capped singly by this project's rule.
    assert judged("spare-end", **(QUIET | {"capped": "no"})).verdict is Verdict.FAIL


def test_source_end_still_landed_fails() -> None:
    # Source: this project's rule.
    assert judged("spare-end", removed="no", **QUIET).verdict is Verdict.FAIL


def test_untagged_goes_on_with_a_reason() -> None:
    # Source: this project's rule.
    found = judged("spare-end", tagged="no", **QUIET)
    assert (found.verdict, found.firm) == (Verdict.MARGINAL, False)


@pytest.mark.parametrize(("ohms", "verdict"), [("OL; OL", "pass"), ("OL; 1.1 Mohm", "pass"), ("OL; 900 kohm", "fail")])
def test_end_is_open_to_both_poles(ohms: str, verdict: str) -> None:
    # Source: this project's rule: over 1 Mohm.
    assert judged("spare-end", ohms=ohms, **QUIET).verdict == verdict


def test_volts_between_two_spare_ends_count() -> None:
    # Source: this project's rule.
    assert judged("spare-end", to_each_other="12.4", **QUIET).verdict is Verdict.FAIL
