"""Inside, outside or too close to tell: guard bands and conformance against published examples."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.published.tables import number, table
from engine.trade.decision import (
    at_least,
    at_most,
    band_at_least,
    band_at_most,
    band_eased,
    between,
    conformance_probability,
    false_accept_percent,
    guarded_limit,
    rectangular_false_accept_percent,
)
from engine.trade.ranges import OutOfRange

FIGURE = st.floats(-1000, 1000, allow_nan=False)
U = st.floats(0, 100, allow_nan=False)
PASS, MARGINAL, UNDECIDED, FAIL = Verdict.PASS, Verdict.MARGINAL, Verdict.UNDECIDED, Verdict.FAIL


def test_breakdown_voltage_example_of_jcgm_106() -> None:
    # Source: JCGM 106:2012, 7.3.3: at most -5.40 V, -5.47 V read, u = 0.05 V: Phi(1.4) = 0.9192, printed 0.92.
    row = table("decision_rule", "example_zener").rows[0]
    p = conformance_probability(number(row, "reading_v"), number(row, "u_v"), high=number(row, "limit_high_v"))
    assert p == pytest.approx(0.9192, rel=1e-3)


def test_specific_risk_example_between_two_limits() -> None:
    # Source: API manual of a national laboratory's open uncertainty library: 9.8 with u = 0.1 in 9 to 10: 2.28 % out.
    row = table("decision_rule", "example_specific_risk").rows[0]
    p = conformance_probability(
        number(row, "reading"), number(row, "u"), number(row, "limit_low"), number(row, "limit_high")
    )
    assert 100 * (1 - p) == pytest.approx(number(row, "risk_outside_percent"), rel=3e-3)  # printed to three figures


@pytest.mark.parametrize("row", table("decision_rule", "z_table").rows)
def test_z_table_of_jcgm_106_comes_back(row) -> None:
    # Source: JCGM 106:2012, 7.3, table 1: z = 0.84, 1.64, 2.33 for 0.80, 0.95, 0.99 (two decimals).
    p = conformance_probability(-number(row, "z"), 1.0, high=0.0)
    assert p == pytest.approx(number(row, "probability"), abs=0.001)  # z is printed to two decimals


@pytest.mark.parametrize("row", table("decision_rule", "guard_band").rows)
def test_risk_on_the_acceptance_limit_is_the_printed_one(row) -> None:
    # Source: ILAC-G8:09/2019, table of decision rules, and JCGM 106:2012, 8.3: 50, 4.85, 2.28 and 0.135 %.
    share = abs(number(row, "r"))
    printed = row.get("max_false_accept_percent", row.get("max_false_reject_percent"))
    assert false_accept_percent(share) == pytest.approx(printed, rel=0.01)  # printed to three figures


@pytest.mark.parametrize(("steps", "percent"), [(0, 50.0), (1, 21.13), (math.sqrt(3), 0.0), (2, 0.0)])
def test_rectangle_has_no_risk_a_half_width_inside(steps: float, percent: float) -> None:
    # Source: derived from JCGM 100:2008, 4.3.7: (root 3 - k) / (2 root 3).
    assert rectangular_false_accept_percent(steps) == pytest.approx(percent, abs=0.01)


def test_acceptance_limit_lies_the_guard_band_inside() -> None:
    # Source: JCGM 106:2012, 8.3.2: A = T - w. ISO 14253-1:2017 takes w = 0.83 U (memory).
    assert guarded_limit(3.0, 0.2, 0.83) == pytest.approx(2.834)


@pytest.mark.parametrize(
    ("value", "verdict"), [(2.8, PASS), (2.8001, UNDECIDED), (3.0, UNDECIDED), (3.2, UNDECIDED), (3.2001, FAIL)]
)
def test_one_upper_limit_with_its_guard_band(value: float, verdict: Verdict) -> None:
    # Source: ISO 14253-1:2017, in between nothing is proved. T = 3.0, U = 0.2.
    assert at_most(value, 3.0, 0.2) is verdict


@pytest.mark.parametrize(
    ("value", "verdict"), [(94, PASS), (93.9, UNDECIDED), (90, UNDECIDED), (86, UNDECIDED), (85.9, FAIL)]
)
def test_one_lower_limit_with_its_guard_band(value: float, verdict: Verdict) -> None:
    # Source: JCGM 106:2012, 8.3.2, lower limit. T = 90, U = 4.
    assert at_least(value, 90, 4) is verdict


@pytest.mark.parametrize(("value", "verdict"), [(12.4, UNDECIDED), (12.6, PASS), (15.9, PASS), (16.2, FAIL)])
def test_two_limits(value: float, verdict: Verdict) -> None:
    # Source: JCGM 106:2012, 8.3.3. 12.5 to 16.0, U = 0.1.
    assert between(value, 12.5, 16.0, 0.1) is verdict


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(50, PASS), (50.001, MARGINAL), (100, MARGINAL), (100.001, FAIL)],
)
def test_band_without_uncertainty_turns_at_its_limits(value: float, verdict: Verdict) -> None:
    # Source: this project's rule for two limits.
    assert band_at_most(value, 50, 100) is verdict


@pytest.mark.parametrize(("value", "verdict"), [(3, PASS), (2.999, MARGINAL), (1.5, MARGINAL), (1.499, FAIL)])
def test_lower_band_without_uncertainty_turns_at_its_limits(value: float, verdict: Verdict) -> None:
    # Source: this project's rule for two limits.
    assert band_at_least(value, 3, 1.5) is verdict


@pytest.mark.parametrize(
    ("value", "verdict"), [(0.15, PASS), (0.151, MARGINAL), (0.20, MARGINAL), (0.201, UNDECIDED), (0.251, FAIL)]
)
def test_eased_band_keeps_no_guard_inside_its_good_limit(value: float, verdict: Verdict) -> None:
    # Source: this project's rule: good = 0.10 + U with U = 0.05.
    assert band_eased(value, 0.15, 0.20, 0.05) is verdict


@pytest.mark.parametrize(("value", "verdict"), [(0.04, UNDECIDED), (0.30, UNDECIDED), (0.50, FAIL)])
def test_eased_band_does_not_pass_what_is_too_coarse(value: float, verdict: Verdict) -> None:
    # Source: this project's rule: U = 0.24 V of two meters is wider than the band 0.10 to 0.20 V.
    assert band_eased(value, 0.34, 0.20, 0.24) is verdict


@given(FIGURE, FIGURE, U)
def test_undecided_is_exactly_within_u_of_the_limit(value: float, limit: float, u: float) -> None:
    # Source: JCGM 106:2012, 8.3.2 with guard band w = U on both sides.
    verdict = at_most(value, limit, u)
    room = 1e-9 * max(1, abs(value), abs(limit), u)
    if abs(value - limit) < u - room:
        assert verdict is UNDECIDED
    elif abs(value - limit) > u + room:
        assert verdict is (PASS if value < limit else FAIL)


@given(FIGURE, FIGURE, U, U)
def test_a_better_instrument_never_turns_a_verdict_round(value: float, limit: float, u: float, less: float) -> None:
    # Source: JCGM 106:2012: a smaller U can only decide what was undecided.
    coarse, fine = at_most(value, limit, max(u, less)), at_most(value, limit, min(u, less))
    assert coarse is UNDECIDED or coarse is fine


@given(FIGURE, FIGURE, U)
def test_lower_limit_mirrors_the_upper(value: float, limit: float, u: float) -> None:
    # Source: symmetry of the two rules.
    assert at_least(value, limit, u) is at_most(-value, -limit, u)


@given(FIGURE, st.floats(0.01, 100), FIGURE)
def test_probability_of_both_sides_is_one(value: float, u: float, limit: float) -> None:
    # Source: JCGM 106:2012, 7.3: the chances of lying under and over one limit are the whole.
    both = conformance_probability(value, u, high=limit) + conformance_probability(value, u, low=limit)
    assert both == pytest.approx(1)


def test_probability_agrees_with_an_outside_normal_distribution() -> None:
    # Source: scipy.stats.norm, an independent implementation.
    norm = pytest.importorskip("scipy.stats").norm
    for z in (-4, -1.7, 0, 0.3, 2.5, 5):
        assert conformance_probability(0, 1, high=z) == pytest.approx(norm.cdf(z), rel=1e-9)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: between(1, 3, 2), "high is 2; it must be at least low, 3"),
        (lambda: band_at_most(1, 3, 2), "bearable is 2; it must be at least good, 3"),
        (lambda: at_most(math.nan, 3), "value is nan; it must be from -1e+12 to 1e+12"),
        (lambda: at_most(1, 3, -1), "uncertainty is -1; it must be from 0 to 1e+12"),
        (lambda: conformance_probability(1, 0), "u is 0; it must be above 0"),
        (lambda: conformance_probability(1, 1, 3, 2), "high is 2; it must be at least low, 3"),
    ],
)
def test_bad_input_is_refused_in_one_sentence(call, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()
    assert str(refused.value) == sentence
