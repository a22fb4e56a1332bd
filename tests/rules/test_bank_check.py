"""A bank: wiring is firm, match and charge are not."""

import pytest

from engine.finding import Verdict
from engine.rules.check import Accuracy
from tests.rules.judging import judged, measured

EXACT = {"batteries": Accuracy(0, 0, 0), "bank": Accuracy(0, 0, 0)}
LEAD = {"links": "1", "chemistry": "lead", "rested": "rested"}


def exact(**typed: str):
    return measured("bank", EXACT, **(LEAD | typed))


def test_two_in_series_pass() -> None:
    # Source: circuit theory: 12.60 + 12.62 V.
    found = judged("bank", batteries="12.60; 12.62", bank="25.20", **LEAD)
    assert (found.verdict, found.values["expected_v"]) == (Verdict.PASS, pytest.approx(25.22))


def test_bank_near_one_battery_reads_as_parallel_and_is_firm() -> None:
    # Source: circuit theory; a series link misplaced is a listed cause of fires (quoted).
    found = judged("bank", batteries="12.60; 12.62", bank="12.61", **LEAD)
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)
    assert "parallel, not series" in found.sentence


@pytest.mark.parametrize(
    ("bank", "says"),
    [("0.02", "a link is open or one battery is turned round"), ("-25.2", "turned round"), ("37.8", "3 in series")],
)
def test_other_wrong_wirings_are_firm_and_named(bank: str, says: str) -> None:
    # Source: circuit theory: a wiring fault moves the bank by whole batteries.
    found = judged("bank", batteries="12.60; 12.62", bank=bank, **LEAD)
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)
    assert says in found.sentence


def test_closed_ring_is_refused_before_any_volts() -> None:
    # Source: circuit theory: two batteries and two links are a short circuit.
    found = judged("bank", batteries="12.60; 12.62", bank="25.2", **(LEAD | {"links": "2"}))
    assert (found.verdict, found.firm) == (Verdict.FAIL, True)


@pytest.mark.parametrize(
    ("bank", "verdict"), [("25.30", "pass"), ("25.31", "fail"), ("25.10", "pass"), ("25.09", "fail")]
)
def test_bank_may_be_a_tenth_off_its_sum(bank: str, verdict: str) -> None:
    # Source: this project's rule: 0.10 V + U, here with a perfect meter.
    assert exact(batteries="12.60; 12.60", bank=bank).verdict == verdict


def test_off_its_sum_is_not_firm() -> None:
    # Source: this project's rule: firm only for wrong wiring.
    assert not exact(batteries="12.60; 12.60", bank="24.8").firm


@pytest.mark.parametrize(
    ("second", "verdict"), [("12.50", "pass"), ("12.49", "marginal"), ("12.40", "marginal"), ("12.39", "fail")]
)
def test_bands_of_the_match(second: str, verdict: str) -> None:
    # Source: this project's rule: 0.10 and 0.20 V between batteries.
    bank = f"{12.60 + float(second):.2f}"
    assert exact(batteries=f"12.60; {second}", bank=bank).verdict == verdict


def test_match_closer_to_its_limit_than_the_meter_can_tell() -> None:
    # Source: JCGM 106:2012, 8.3: U of the difference is 0.033 V on one usual meter.
    assert judged("bank", batteries="12.60; 12.51", bank="25.11", **LEAD).verdict is Verdict.MARGINAL
    assert judged("bank", batteries="12.60; 12.41", bank="25.01", **LEAD).verdict is Verdict.UNDECIDED


@pytest.mark.parametrize(
    ("volts", "verdict"),
    [
        ("12.0", "pass"),
        ("11.99", "marginal"),
        ("11.6", "marginal"),
        ("11.59", "fail"),
        ("13.2", "pass"),
        ("13.21", "marginal"),
    ],
)
def test_rested_lead_window(volts: str, verdict: str) -> None:
    # Source: this project's rule: 12.0 to 13.2 V; below "charge first"; 11.6 V is empty in the lowest published set.
    assert exact(batteries=f"{volts}; {volts}", bank=f"{2 * float(volts):.2f}").verdict == verdict


def test_low_battery_is_told_to_charge_first() -> None:
    found = exact(batteries="11.9; 11.9", bank="23.8")
    assert found.sentence == "11.9 V at rest is low: charge first"


@pytest.mark.parametrize(("rested", "verdict"), [("off charge today", "pass"), ("rested", "marginal")])
def test_surface_charge_is_no_fault_on_the_day_of_charging(rested: str, verdict: str) -> None:
    # Source: this project's rule: 13.4 V is not at rest yet.
    assert exact(batteries="13.40; 13.42", bank="26.82", rested=rested).verdict == verdict


def test_on_charge_the_wiring_is_told_and_the_match_is_not() -> None:
    # Source: this project's rule.
    assert exact(batteries="14.1; 14.2", bank="28.3", rested="on charge").verdict is Verdict.MARGINAL


def test_lithium_has_its_own_window() -> None:
    # Source: this project's rule, 12.8 to 13.6 V.
    assert exact(batteries="12.7; 12.7", bank="25.4", chemistry="lifepo4").verdict is Verdict.MARGINAL


def test_three_batteries_make_36_volts() -> None:
    # Source: a list of batteries and a link count, any bank voltage.
    assert exact(batteries="12.6; 12.6; 12.6", bank="37.8", links="2").verdict is Verdict.PASS


def test_six_volt_batteries_are_judged_by_their_own_window() -> None:
    # Source: three cells instead of six.
    assert exact(batteries="6.3; 6.3", bank="12.6", battery_nominal="6 V").verdict is Verdict.PASS


@pytest.mark.parametrize(("ages", "verdict"), [("4; 16", "pass"), ("4; 17", "marginal")])
def test_ages_within_a_year(ages: str, verdict: str) -> None:
    # Source: common practice (quoted): within 12 months.
    assert exact(batteries="12.6; 12.6", bank="25.2", ages=ages).verdict == verdict


def test_unlike_capacities_need_a_reason() -> None:
    # Source: common practice (quoted): equal ampere-hours.
    assert exact(batteries="12.6; 12.6", bank="25.2", capacities="100; 80").verdict is Verdict.MARGINAL


@pytest.mark.parametrize("batteries", ["0; 0", "0.01; 0.01", "-0.2; 0.1"])
def test_batteries_that_read_nothing_are_said_to(batteries: str) -> None:
    # Source: this project's rule, under 1 V on average.
    found = exact(batteries=batteries, bank="25.2")
    assert found.verdict is Verdict.FAIL
    assert found.sentence.endswith("its batteries read next to nothing")
