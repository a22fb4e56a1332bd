"""Strings of batteries side by side add their current: what the breaker must interrupt, and what a short draws."""

import pytest

from engine.finding import Value, Verdict
from tests.plan.bow import finding, planned

# ABYC E-11 table V.A as quoted, by the total of the cranking amperes: to 650 A 1500, to 1100 A 3000, above it 5000 A;
# above 2200 A the maker's figure. Two strings of 800 A are 1600 A, four are 3200 A.
BANKS = [
    (2, 24.0, 800.0, 3000.0),
    (4, 24.0, 800.0, 5000.0),
    (2, 12.0, 800.0, 5000.0),
    (2, 24.0, 650.0, 1500.0),
    (4, 24.0, 325.0, 1500.0),
    (4, 24.0, 326.0, 3000.0),
]


@pytest.mark.parametrize(("batteries", "nominal", "cranking", "needed_a"), BANKS)
def test_the_breaker_interrupts_what_all_strings_can_give(batteries, nominal, cranking, needed_a) -> None:
    plan = planned(batteries=float(batteries), nominal=nominal, cranking=cranking)
    assert finding(plan, "breaker", "protection-kind").values["needed_interrupting_a"] == needed_a


def test_above_the_table_nothing_is_told_from_cranking_amps() -> None:
    kind = finding(planned(batteries=4.0, nominal=12.0), "breaker", "protection-kind")
    assert kind.verdict is Verdict.UNDECIDED


def test_a_breaker_for_one_string_fails_behind_two() -> None:
    changed: dict[str, Value] = {"batteries": 4.0, "new_breaker_interrupting": 3000.0}
    assert finding(planned(**changed), "breaker", "protection-kind").verdict is Verdict.FAIL


def test_two_strings_halve_the_inner_resistance() -> None:
    # By hand: a 12 V battery rests at 12.65 V and cranks 800 A down to 7.2 V: 6.8125 mohm; two in series 13.625 mohm:
    # 25.3 V / 13.625 mohm = 1857 A, and twice that from two strings.
    one, two = (finding(planned(batteries=n), "breaker", "fault-current").values for n in (2.0, 4.0))
    assert one["source_current_a"] == pytest.approx(1857, abs=0.5)
    assert two["source_current_a"] == pytest.approx(3714, abs=1)


def test_the_maker_s_short_circuit_figure_adds_as_well() -> None:
    # The printed case of ABYC E-11's large banks, as quoted: three strings of 2400 A give 7200 A.
    plan = planned(nominal=12.0, batteries=6.0, battery_nominal=6.0, short_circuit=2400.0)
    assert finding(plan, "breaker", "protection-kind").values["needed_interrupting_a"] == 7200.0


@pytest.mark.parametrize("changed", [{"batteries": None}, {"battery_nominal": None}, {"batteries": 3.0}])
def test_a_bank_that_was_not_counted_or_makes_no_string_is_missing(changed: dict[str, Value]) -> None:
    plan = planned(**changed)
    assert finding(plan, "breaker", "protection-kind").verdict is Verdict.MISSING
    assert finding(plan, "breaker", "fault-current").verdict is Verdict.MISSING
