"""Numbers as shown: the reader's unit, the other system in brackets, no digit that was not measured."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.quantity import UNITS, Amount, UnknownUnit, range_words, read, show, to_base

SHOWN = [
    (4.572, "m", "4.57 m (15 ft 0 in)"),
    (4.572, "ft", "15 ft 0 in (4.57 m)"),
    (0.013, "mm", "13.0 mm (33/64 in)"),
    (0.0333375, "in", "1 5/16 in (33 mm)"),
    (12.9, "N m", "12.9 N m (114 lbf in)"),
    (90.0, "N", "90 N (20 lbf)"),
    (21.0, "degC", "21.0 degC (70 degF)"),
    (21.1111, "degF", "70 degF (21 degC)"),
    (5.0, "K", "5.0 K (9 degF diff)"),
    (24.9, "V", "24.90 V"),
    (0.028, "V", "0.028 V"),
    (0.0285, "mV", "28.5 mV"),
    (8.3656, "mm2", "8.37 mm2"),
    (0.00036, "mm", "0.36 mm (1/64 in)"),
    (133.0, "", "133"),
    (-0.002, "mm", "-2.0 mm (-5/64 in)"),
    (-0.0001, "degC", "0.0 degC (32 degF)"),
    (0.0, "V", "0.00 V"),
]


@pytest.mark.parametrize(("number", "unit", "text"), SHOWN)
def test_a_number_is_shown_with_the_other_system_in_brackets(number, unit, text):
    """Conversions by hand from NIST SP 811 appendix B.8."""
    assert show(number, unit) == text


@pytest.mark.parametrize(
    ("typed", "asked", "text"),
    [
        ("24.9", "V", "24.9 V"),
        ("24.90", "V", "24.90 V"),
        ("0.02", "V", "0.02 V"),
        ("4.572", "m", "4.572 m (15 ft 0 in)"),
        ("15 ft 2 in", "m", "4.62 m (15 ft 2 in)"),
        ("1 5/16 in", "mm", "33 mm (1 5/16 in)"),
        ("45 in-lb", "N m", "5.1 N m (45 lbf in)"),
        ("10 kg", "N", "98 N (22 lbf)"),
    ],
)
def test_a_reading_is_echoed_in_the_unit_asked_to_its_own_digits(typed, asked, text):
    meant = read(typed, asked)
    assert show(meant.number, asked, step=meant.step) == text


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("15 ft 2 3/8 in", "15 ft 2 3/8 in (4.63 m)"),
        ("0.512 in", "0.512 in (13.00 mm)"),
        ("5.2 ft", "5.2 ft (1.58 m)"),
        ("2.1 in", "2.1 in (53 mm)"),
        ("15 ft", "15 ft (4.6 m)"),
    ],
)
def test_a_length_is_echoed_in_the_unit_typed_the_way_it_was_typed(typed, text):
    meant = read(typed, "m")
    assert show(meant.number, meant.unit, step=meant.step) == text


def test_an_instrument_in_steps_of_a_twentieth_shows_two_decimals():
    assert show(3.25 * 9.80665, "kgf", step=0.05 * 9.80665, both=False) == "3.25 kgf"


def test_a_coarse_instrument_shows_no_decimals():
    assert show(47.3, "A", step=5) == "47 A"


def test_the_other_system_can_be_left_out():
    assert show(4.572, "m", both=False) == "4.57 m"


def test_a_plus_is_shown_where_the_sign_is_the_reading():
    assert show(24.9, "V", step=0.01, sign=True) == "+24.90 V"


def test_a_minus_is_shown_always():
    assert show(-24.9, "V", step=0.01) == "-24.90 V"


def test_nothing_is_shown_as_minus_zero():
    assert show(-0.0004, "V", step=0.01) == "0.00 V"


def test_over_range_is_shown_as_the_meter_shows_it():
    assert show(math.inf, "ohm") == "OL"


def test_inches_carry_into_feet():
    assert show(0.3047, "ft") == "1 ft 0 in (0.30 m)"


def test_showing_in_a_unit_that_is_not_ours_is_refused():
    with pytest.raises(UnknownUnit):
        show(1.0, "furlong")


@pytest.mark.parametrize("unit", UNITS)
def test_what_is_shown_is_ascii(unit):
    assert show(12.5, unit).isascii()


@given(st.sampled_from(UNITS), st.decimals(-9999, 9999, places=2))
def test_what_is_shown_is_read_back_within_what_it_tells(unit, number):
    base = to_base(float(number), unit)
    meant = read(show(base, unit, both=False), unit)
    assert isinstance(meant, Amount)
    assert abs(meant.number - base) <= 0.5001 * meant.step


@given(st.sampled_from(UNITS), st.integers(-99999, 99999), st.integers(0, 4))
def test_a_typed_decimal_is_echoed_exactly(unit, digits, places):
    typed = f"{digits / 10**places:.{places}f}"
    meant = read(typed, unit)
    again = read(show(meant.number, unit, step=meant.step, both=False), unit)
    assert (again.number, again.step) == (meant.number, meant.step)


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (5, 120, "A", "5 to 120 A"),
        (0.02, 0.12, "mm", "20 to 120 mm"),
        (0.3, 15, "ft", "0.9843 to 49.21 ft"),
        (-100, 100, "V", "-100 to 100 V"),
        (500, 20000, "A", "500 to 20000 A"),
        (7, 2000, "", "7 to 2000"),
        (5, math.inf, "A", "at least 5 A"),
        (-math.inf, 3, "%", "at most 3 %"),
        (5, 5, "V", "5 V"),
    ],
)
def test_a_range_is_said_in_words(low, high, unit, words):
    assert range_words(low, high, unit) == words
