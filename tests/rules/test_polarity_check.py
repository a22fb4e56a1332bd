"""Polarity: the sign is firm, the size is not."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged


def test_in_a_two_wire_system_1_is_negative_2_positive_and_3_stays_empty() -> None:
    # Common practice, no source. Red on position 2, black on position 1: a reading above zero passes.
    found = judged("polarity", volts="+25.1 V", nominal="24 V")
    assert found.verdict is Verdict.PASS
    assert "at a two-wire receptacle: position 1 negative, 2 positive, 3 empty" in found.conditions


@pytest.mark.parametrize("volts", ["-25.1", "-12.6", "-0.5", "-0.11"])
def test_reversed_is_a_firm_fail_at_any_size(volts: str) -> None:
    # Source: this project's rule: only the sign is firm.
    found = judged("polarity", volts=volts, nominal="24 V")
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)
    assert "reversed" in found.sentence


@pytest.mark.parametrize("volts", ["0.00", "0.09", "-0.10", "0.99"])
def test_too_little_to_show_a_sign_is_not_measured(volts: str) -> None:
    # Source: this project's rule: up to 0.10 V nothing is there; a floating wire shows no sign.
    found = judged("polarity", volts=volts, nominal="24 V")
    assert (found.verdict, found.firm) == (Verdict.MISSING, True)


@pytest.mark.parametrize(
    ("volts", "verdict"), [("24.9", "pass"), ("25.5", "pass"), ("24.89", "marginal"), ("25.51", "marginal")]
)
def test_size_within_three_tenths_of_the_bank(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.3 V of the bank, here 25.2 V.
    assert judged("polarity", volts=volts, nominal="24 V", bank="25.2 V").verdict == verdict


@pytest.mark.parametrize(
    ("volts", "verdict"), [("21.6", "pass"), ("21.5", "marginal"), ("30", "pass"), ("30.1", "marginal")]
)
def test_size_by_nominal_where_the_bank_was_not_measured(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.9 to 1.25 of nominal.
    assert judged("polarity", volts=volts, nominal="24 V").verdict == verdict


def test_wrong_size_is_not_firm() -> None:
    # Source: this project's rule: a marginal size goes on with a reason.
    assert not judged("polarity", volts="12.4 V", nominal="24 V").firm
