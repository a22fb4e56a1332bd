"""Polarity: the sign is firm, and so are volts that kill; the last 0.3 V are not."""

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
    # Source: this project's rule.
    found = judged("polarity", volts=volts, nominal="24 V")
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)
    assert "reversed" in found.sentence


@pytest.mark.parametrize("volts", ["0.00", "0.09", "-0.10", "0.99"])
def test_too_little_to_show_a_sign_is_a_fail_that_hurts_nobody(volts: str) -> None:
    # Source: this project's rule: up to 0.10 V nothing is there; a floating wire shows no sign.
    found = judged("polarity", volts=volts, nominal="24 V")
    assert (found.verdict, found.firm, found.hands) == (Verdict.FAIL, True, "")


@pytest.mark.parametrize(
    ("volts", "verdict"), [("24.9", "pass"), ("25.5", "pass"), ("24.89", "marginal"), ("25.51", "marginal")]
)
def test_size_within_three_tenths_of_the_bank(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.3 V of the bank, here 25.2 V.
    assert judged("polarity", volts=volts, nominal="24 V", bank="25.2 V").verdict == verdict


@pytest.mark.parametrize(("volts", "verdict"), [("21.6", "pass"), ("21.5", "fail"), ("30", "pass"), ("30.1", "fail")])
def test_size_by_nominal_where_the_bank_was_not_measured(volts: str, verdict: str) -> None:
    # Source: this project's rule: 0.9 to 1.25 of nominal.
    assert judged("polarity", volts=volts, nominal="24 V").verdict == verdict


def test_size_off_the_bank_but_right_for_the_system_is_not_firm() -> None:
    # Source: this project's rule: a marginal size goes on with a reason.
    found = judged("polarity", volts="24.4 V", nominal="24 V", bank="25.2 V")
    assert (found.verdict, found.firm, found.hands) == (Verdict.MARGINAL, False, "")


@pytest.mark.parametrize(("volts", "nominal", "bank"), [("25.3", "12", "12.65"), ("12.6", "24", "25.3")])
def test_double_or_half_the_volts_is_a_firm_fail_with_what_the_hands_do(volts: str, nominal: str, bank: str) -> None:
    # Source: a 24 V bank on a 12 V outlet kills what is plugged in; 12.6 V on 24 V is a tap in the middle of the bank.
    found = judged("polarity", volts=volts, nominal=nominal, bank=bank)
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)
    assert found.hands.startswith("Connect nothing.")


def test_middle_of_the_bank_is_held_against_the_middle() -> None:
    # Source: position 3 of a three-wire receptacle carries half the bank: 12.6 of 25.2 V.
    assert judged("polarity", volts="12.6 V", nominal="24 V", bank="12.5 V").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("volts", "verdict"), [("19.4", "pass"), ("17", "marginal"), ("16.4", "fail"), ("25.1", "pass"), ("44", "fail")]
)
def test_panel_is_held_against_its_label_hot_and_cold(volts: str, verdict: str) -> None:
    # Worked by hand, label 22 V at 25 degC, -0.35 % a kelvin: a cell at 60 degC shows 22 x (1 - 0.1225) = 19.3 V, at
    # -15 degC 22 x 1.14 = 25.1 V. Two in series show 44 V, a shaded half of one 11 V.
    assert judged("polarity", volts=volts, nominal="22 V", source="panel").verdict == verdict
