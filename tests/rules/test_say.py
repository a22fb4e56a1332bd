"""How findings say numbers."""

import pytest

from engine.rules.say import apart, at_least, at_most, short


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (4.4435, "4.44"),
        (57.0, "57"),
        (1250, "1250"),
        (0, "0"),
        (0.0154, "0.0154"),
        (20000, "20000"),
        (2.50, "2.5"),
        (-3.14159, "-3.14"),
    ],
)
def test_three_figures_and_no_exponent(value: float, text: str) -> None:
    assert short(value) == text


def test_a_tiny_number_keeps_its_exponent() -> None:
    assert short(1.2345e-9) == "1.23e-09"


@pytest.mark.parametrize(
    ("value", "limit", "text"), [(3.002, 3, "3.002"), (3.00004, 3, "3.00004"), (3.2, 3, "3.2"), (3, 3, "3")]
)
def test_a_value_is_printed_apart_from_its_limit(value: float, limit: float, text: str) -> None:
    assert apart(value, limit) == text


def test_rounding_in_the_last_bit_does_not_decide() -> None:
    assert at_most(0.1 + 0.2, 0.3)
    assert at_least(0.3, 0.1 + 0.2)
    assert not at_most(3.0001, 3)
