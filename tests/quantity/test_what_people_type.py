"""What a person may type, and the number, unit and size of one digit that it is taken for."""

import math

import pytest

from engine.quantity import Amount, Kind, Question, Wanted, WireSize, read, several

UNDERSTOOD = [
    ("24.9", "V", 24.9),
    ("24,9", "V", 24.9),
    ("24.9V", "V", 24.9),
    ("24.9 v", "V", 24.9),
    ("+25.43 VDC", "V", 25.43),
    ("12 mV", "V", 0.012),
    ("-0.02", "V", -0.02),
    ("\u22120.02 V", "V", -0.02),
    ("- 0.02", "V", -0.02),
    (".5", "V", 0.5),
    (" 24.9 volts ", "V", 24.9),
    ("5,1", "mm", 0.0051),
    ("0,125", "V", 0.125),
    ("28.5", "mV", 0.0285),
    ("48 amps", "A", 48.0),
    ("35 mA", "A", 0.035),
    ("0.2Ω", "ohm", 0.2),
    ("2.2k", "ohm", 2200.0),
    ("1.5 Mohm", "ohm", 1.5e6),
    ("1.5 mohm", "ohm", 0.0015),
    ("33mm", "m", 0.033),
    ("5 M", "m", 5.0),
    ("1/4 in", "mm", 0.00635),
    ('1 5/16"', "mm", 0.0333375),
    ('1-5/16"', "mm", 0.0333375),
    ("2½ in", "mm", 0.0635),
    ("33 in.", "mm", 0.8382),
    ("15 ft 2 in", "m", 4.6228),
    ("15'2\"", "m", 4.6228),
    ("15'-2\"", "m", 4.6228),
    ("15\u20322\u2033", "m", 4.6228),
    ("15' 2 1/2''", "m", 4.6355),
    ("15 feet 2 inches", "m", 4.6228),
    ("15' 2", "m", 4.6228),
    ("-15 ft 2 in", "m", -4.6228),
    ("16 mm²", "mm2", 16.0),
    ("5 Nm", "N m", 5.0),
    ("5 N·m", "N m", 5.0),
    ("5 N-m", "N m", 5.0),
    ("510 cNm", "N m", 5.1),
    ("20 lb", "N", 88.964432305210),
    ("10 kg", "N", 98.0665),
    ("70F", "degC", 190 / 9),
    ("140 °F", "degC", 60.0),
    ("21 °C", "degC", 21.0),
    ("-5 C", "degC", -5.0),
    ("9 F", "K", 5.0),
    ("5 °C", "K", 5.0),
    ("5 min 30 s", "s", 330.0),
    ("1 h 30 min", "min", 5400.0),
    ("100 Ah", "Ah", 100.0),
    ("0.305 %/K", "%", 0.305),
    ("-0.30 %/°C", "%", -0.3),
    ("-0,28%/C", "%", -0.28),
    ("1.2 kW", "W", 1200.0),
    ("3 %", "%", 3.0),
    ("133", "", 133.0),
    ("1/4", "", 0.25),
]


@pytest.mark.parametrize(("text", "unit", "number"), UNDERSTOOD)
def test_an_entry_is_understood_in_base_units(text, unit, number):
    """Factors by hand from NIST SP 811 appendix B.8: inch 25.4 mm, lbf 4.4482216152605 N, kgf 9.80665 N."""
    meant = read(text, unit)
    assert isinstance(meant, Amount)
    assert meant.number == pytest.approx(number, rel=1e-13)
    assert meant.raw == text


@pytest.mark.parametrize(
    "text", ["45 in-lb", "45 lbf·in", "45 lbf in", "45 in lb", "45 in-lbs", "45 lbf*in", "45 in.-lb."]
)
def test_inch_pounds_are_a_torque_and_never_a_subtraction(text):
    """By hand from NIST SP 811: 45 x 4.4482216152605 N x 0.0254 m = 5.0843173 N m."""
    meant = read(text, "N m")
    assert (meant.kind, meant.unit) == (Kind.TORQUE, "lbf in")
    assert meant.number == pytest.approx(5.0843173, rel=1e-7)


def test_pounds_on_a_force_say_that_they_are_pounds_of_force():
    assert read("20 lb", "N").unit == "lbf"


def test_kilograms_on_a_force_say_that_they_are_kilograms_of_force():
    assert read("10 kg", "N").unit == "kgf"


@pytest.mark.parametrize(
    ("text", "unit", "step"),
    [
        ("24.90", "V", 0.01),
        ("24", "V", 1.0),
        ("33", "mm", 0.001),
        ("1 5/16 in", "mm", 0.0254 / 16),
        ("15 ft 2 in", "m", 0.0254),
        ("15 ft 2 3/8 in", "m", 0.0254 / 8),
        ("70 F", "degC", 5 / 9),
    ],
)
def test_the_step_is_one_last_typed_digit_in_base_units(text, unit, step):
    assert read(text, unit).step == pytest.approx(step, rel=1e-13)


def test_a_typed_figure_lands_on_the_nearest_float_so_that_limits_meet_exactly():
    """NIST SP 811 appendix B.8: 140 degF is 60 degC; 5.1 mm is 0.0051 m."""
    assert [read("140 F", "degC").number, read("5.1", "mm").number] == [60.0, 0.0051]


@pytest.mark.parametrize("text", ["OL", "ol", "O.L", "0L", ".OL", "open", "over range", "OL Mohm"])
def test_over_range_is_infinite_where_it_is_an_answer(text):
    assert read(text, "ohm", over_range=True).number == math.inf


def test_a_minus_before_over_range_is_still_over_range():
    assert read("-OL", "V", over_range=True).number == math.inf


@pytest.mark.parametrize(("text", "signed"), [("+24.9", True), ("-24.9", True), ("24.9", False)])
def test_an_amount_tells_whether_a_sign_was_typed(text, signed):
    assert read(text, "V").signed is signed


def test_a_comma_before_three_digits_is_asked_about():
    asked = read("1,000", "mm")
    assert isinstance(asked, Question)
    assert [meant.number for _, meant in asked.choices] == [0.001, 1.0]
    assert asked.sentence == "Does the comma mean 1.000 mm or 1000 mm?"


@pytest.mark.parametrize("text", ["0,125", "24,95", "1234,567", "1,0000"])
def test_a_comma_that_cannot_part_thousands_is_a_decimal_mark(text):
    assert read(text, "V").number == float(text.replace(",", "."))


def test_a_bare_fraction_on_a_metric_reading_is_asked_about():
    asked = read("5/16", "mm")
    assert [words for words, _ in asked.choices] == ["as typed: 5/16 mm", "5/16 in (7.9 mm)"]


def test_a_bare_fraction_on_an_inch_reading_is_plain():
    assert read("5/16", "in").number == pytest.approx(0.0079375)


def test_several_readings_in_one_line_are_parted_by_semicolons():
    meant = several("24.9; -0.02;1 5/16 in ; 1/0", "V", Wanted("V", signed=True), "mm", "wire")
    assert [getattr(m, "number", None) or m.label for m in meant] == [24.9, -0.02, pytest.approx(0.0333375), "1/0 AWG"]


def test_a_fault_in_a_line_of_readings_is_placed_in_the_whole_line():
    fault = several("24.9; 2.4.9; 12", "V", "V", "V")
    assert fault.caret() == "24.9; 2.4.9; 12\n         ^"


def test_a_line_with_too_few_readings_says_how_many_are_asked_for():
    fault = several("24.9 / 12.4", "V", "V")
    assert fault.sentence == "2 readings are asked for and 1 typed: part them with ;."


def test_a_question_in_a_line_of_readings_stays_a_question():
    size, volts = several("8; 24.9", "wire", "V")
    assert isinstance(size, Question)
    assert volts.number == 24.9


def test_a_wire_size_is_one_of_the_several():
    assert isinstance(several("8 AWG", "wire")[0], WireSize)
