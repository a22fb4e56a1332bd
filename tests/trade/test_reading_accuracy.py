"""What an instrument's printed accuracy says of a reading, against published and worked examples."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.published.tables import number, table
from engine.trade.ranges import OutOfRange
from engine.trade.reading import (
    combined,
    expanded,
    half_width,
    linear_sum,
    quotient,
    same_meter_difference,
    standard,
    standard_of_step,
    two_meter_difference,
    wire_length_m,
)

VOLTS = st.floats(0.1, 60, allow_nan=False)


def test_half_width_of_the_laboratory_ammeter_example() -> None:
    # Source: university physics laboratory's page on meter accuracy, 1.4869 A, 0.5 % + 1 digit (read, recomputed).
    assert half_width(1.4869, 0.5, 1, 0.0001) == pytest.approx(0.0075345, rel=1e-9)


def test_half_width_with_a_share_of_the_range() -> None:
    # Source: user manual of a national laboratory's open uncertainty library: 100 V, 1 % + 5 % of 100 V range is 6 V.
    assert half_width(100, 1, 0, 0, percent_of_range=5, full_scale=100) == pytest.approx(6)


def test_half_width_gives_98_8_to_101_2_volts_not_the_misprinted_99_8() -> None:
    # Source: meter sellers' pages, 100.0 V +/-(1 % + 2 counts of 0.1 V); one page misprints the lower end as 99.8.
    half = half_width(100, 1, 2, 0.1)
    assert (100 - half, 100 + half) == pytest.approx((98.8, 101.2))


def test_every_row_of_the_published_accuracy_table_comes_out() -> None:
    # Source: decision_rule.toml, table dmm_accuracy, each row as its own document prints it.
    for row in table("decision_rule", "dmm_accuracy").rows:
        unit = "a" if "reading_a" in row else "v"
        found = half_width(
            number(row, f"reading_{unit}"),
            number(row, "percent_of_reading"),
            float(row.get("counts", 0)),
            float(row.get(f"resolution_{unit}", 0)),
            float(row.get("percent_of_range", 0)),
            float(row.get(f"range_{unit}", 0)),
        )
        assert found == pytest.approx(number(row, f"half_width_{unit}"), rel=1e-6), row


def test_standard_uncertainty_of_a_rectangle() -> None:
    # Source: JCGM 100:2008, H.1, expansion coefficient: half-width 2e-6 /K gives u = 1.2e-6 /K (printed to 2 figures).
    assert standard(2.0e-6) == pytest.approx(1.2e-6, rel=0.04)  # printed to two figures only


def test_voltmeter_example_of_the_guide() -> None:
    # Source: JCGM 100:2008, 4.3.7 example 2 and 5.1.5: 14e-6 of 0.928571 V + 2e-6 of 1 V, with 12 uV of scatter.
    half = half_width(0.928571, 14e-4, 0, 0, percent_of_range=2e-4, full_scale=1.0)
    assert half == pytest.approx(15.0e-6, rel=1e-4)
    assert combined([standard(half), 12e-6]) == pytest.approx(14.8e-6, rel=2e-3)  # the guide rounds to 15 uV


def test_one_step_of_the_display_leaves_a_twelfth() -> None:
    # Source: JCGM 100:2008, F.2.2.1: u = 0.29 of a step.
    assert standard_of_step(1.0) == pytest.approx(0.29, rel=0.01)  # printed to two figures


def test_expanded_doubles() -> None:
    # Source: JCGM 100:2008, 6.2.1, k = 2.
    assert expanded(0.048) == pytest.approx(0.096)


def test_two_meters_by_linear_sum_are_the_printed_0_29_volts() -> None:
    # Source: worked by hand, 2 x (0.5 % of 24.9 V + 2 digits) = 0.289 V: the comparison, not the verdict's U.
    assert linear_sum([half_width(24.9, 0.5, 2, 0.01)] * 2) == pytest.approx(0.289)


def test_two_meters_by_root_sum_of_squares_are_less_than_their_linear_sum() -> None:
    # Source: JCGM 100:2008, 5.1.2. Worked by hand: 2 x root(2 x 0.1445^2 / 3) = 0.2360 V.
    assert expanded(two_meter_difference(24.9, 24.9, 0.5, 2, 0.01)) == pytest.approx(0.2360, rel=1e-3)


def test_same_meter_loses_its_scale_error() -> None:
    # Source: worked by hand, 24.9 - 23.8 V: 2 x root((0.0055^2 + 2 x 0.02^2) / 3) = 0.0333 V.
    assert expanded(same_meter_difference(24.9, 23.8, 0.5, 2, 0.01)) == pytest.approx(0.0333, rel=2e-3)


@given(VOLTS, VOLTS)
def test_one_meter_is_never_worse_than_two(first: float, second: float) -> None:
    # Source: JCGM 100:2008, 5.2.2: a wholly correlated part cancels in a difference of like sign.
    one = same_meter_difference(first, second, 0.5, 2, 0.01)
    assert one <= two_meter_difference(first, second, 0.5, 2, 0.01) * (1 + 1e-12)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=6))
def test_linear_sum_is_never_under_the_root_sum_of_squares(halves: list[float]) -> None:
    # Source: the triangle inequality; with k = 2 and root 3 the factor 2 / root 3 is the most that it can be over.
    assert expanded(combined(map(standard, halves))) <= linear_sum(halves) * 2 / math.sqrt(3) + 1e-9


@given(VOLTS, st.floats(0, 5), st.floats(0, 10))
def test_a_reading_of_either_sign_is_known_equally_well(volts: float, percent: float, counts: float) -> None:
    # Source: accuracy is printed of the size of the reading.
    assert half_width(-volts, percent, counts, 0.01) == half_width(volts, percent, counts, 0.01)


def test_quotient_adds_the_shares_in_squares() -> None:
    # Source: JCGM 100:2008, 5.1.3, example 2: relative parts of a quotient add in squares. 1 % and 2 % give 2.236 %.
    assert quotient(10, 0.1, 5, 0.1) / 2 == pytest.approx(0.02236, rel=1e-3)


def test_quotient_refuses_a_zero_below() -> None:
    with pytest.raises(OutOfRange, match=r"^denominator is 0; it must not be zero$"):
        quotient(1, 0.1, 0, 0.1)


def test_tape_run_gets_three_percent_of_wire() -> None:
    # Source: common practice, add 3 % to a taped run (memory). Worked by hand: 5.05 m gives 5.2015 m.
    assert wire_length_m(5.05) == pytest.approx(5.2015)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: half_width(1, 101, 0, 0), "percent is 101 %; it must be from 0 to 100 %"),
        (lambda: standard(-1), "half is -1; it must be from 0 to 1e+12"),
        (lambda: expanded(1, 5), "k is 5; it must be from 1 to 4"),
        (lambda: wire_length_m(201), "taped_m is 201 m; it must be from 0 to 200 m"),
        (lambda: combined([math.nan]), "part is nan; it must be from -1e+12 to 1e+12"),
    ],
)
def test_out_of_range_is_said_in_one_sentence(call, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()
    assert str(refused.value) == sentence
