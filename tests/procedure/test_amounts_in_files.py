"""Amounts in procedure files: exact factors, and the same reading as for typed text."""

from fractions import Fraction

import pytest

from engine.procedure import amounts
from engine.quantity.amount import Kind
from engine.quantity.read import read
from engine.quantity.units import UNITS, scale_of


@pytest.mark.parametrize("unit", sorted(amounts.FACTORS))
def test_a_factor_is_that_of_the_one_table(unit: str) -> None:
    """Held against the one table of units."""
    assert Fraction(*amounts.FACTORS[unit]) == scale_of(unit).factor


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit])
@pytest.mark.parametrize("digits", ["12", "0.5", "-3.25", "+7"])
def test_an_amount_is_read_as_a_person_who_types_it_is_read(digits: str, unit: str) -> None:
    text = f"{digits} {unit}".removesuffix(" diff")
    found = amounts.amount(text, unit)
    typed = read(text, unit)
    assert isinstance(found, amounts.Plain)
    assert found.number == typed.number


@pytest.mark.parametrize(
    ("text", "unit", "number"),
    [
        ("1/4 in", "mm", 0.00635),
        ("15 ft 2 in", "m", 4.6228),
        ('1 5/16"', "mm", 0.0333375),
        ("70 degF", "degC", 190 / 9),
    ],
)
def test_the_forms_of_the_trade_are_read_too(text: str, unit: str, number: float) -> None:
    found = amounts.amount(text, unit)
    assert isinstance(found, amounts.Plain)
    assert found.number == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "sentence"),
    [
        ("5", "A", '"5" needs a unit, such as "5 A"'),
        ("5 V", "A", '"5 V" is a voltage; a current is asked here (in A)'),
        ("5 A", "", '"5 A" is a current; a count is asked here (a number without unit)'),
        ("5 MV", "V", '"5 MV": MV would be millions of volts: type mV for thousandths.'),
        ("9" * 50 + " A", "A", None),
    ],
)
def test_a_wrong_amount_is_refused_in_one_sentence(text: str, unit: str, sentence: str | None) -> None:
    found = amounts.amount(text, unit)
    assert isinstance(found, amounts.Wrong)
    assert sentence is None or found.sentence == sentence


@pytest.mark.parametrize(
    ("text", "span_s"), [("30 s", 30.0), ("10 min", 600.0), ("12 h", 43200.0), ("1.5 days", 129600.0)]
)
def test_spans_of_time_are_read(text: str, span_s: float) -> None:
    assert amounts.seconds(text) == span_s


@pytest.mark.parametrize("text", ["", "10", "10 weeks", "-5 min", "1e9 s", "10 min later", "5 A"])
def test_other_texts_are_no_span_of_time(text: str) -> None:
    assert isinstance(amounts.seconds(text), amounts.Wrong)


def test_a_negative_temperature_of_the_other_scale_keeps_its_zero() -> None:
    """-40 degC is -40 degF: NIST SP 811, appendix B.8."""
    assert amounts.negative(amounts.Plain(4.4, Kind.TEMPERATURE).number, "40 degF") == pytest.approx(-40.0)
