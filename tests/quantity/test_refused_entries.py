"""What is refused: the place of the fault, and one sentence that says what would be right."""

import pytest

from engine.quantity import Fault, UnknownUnit, Wanted, read, several

REFUSED = [
    ("2.4.9", "V", 3, "A number has one decimal mark, such as 24.9."),
    ("24..9", "V", 3, "A number has one decimal mark, such as 24.9."),
    ("24,,9", "V", 3, "A number has one decimal mark, such as 24.9."),
    ("1.000,5", "V", 5, "Type one decimal mark and no thousands mark, such as 1000.5."),
    ("1,000.5", "V", 5, "Type one decimal mark and no thousands mark, such as 1000.5."),
    ("24.", "V", 3, "A digit is missing after the decimal mark, such as 24.9."),
    ("O.5", "V", 0, "This is the letter O: type the figure 0."),
    ("l2.5", "V", 0, "This is the letter l: type the figure 1."),
    ("1O.5", "V", 1, "This is the letter O: type the figure 0."),
    ("24.O", "V", 3, "This is the letter O: type the figure 0."),
    ("1O V", "V", 1, "This is the letter O: type the figure 0."),
    ("1e999", "V", 1, "Write the number out with all its digits, such as 1000, without e."),
    ("1e3", "V", 1, "Write the number out with all its digits, such as 1000, without e."),
    ("nan", "V", 0, "This is a word for no number: type what was measured, such as 12.5 V."),
    ("-inf", "V", 1, "This is a word for no number: type what was measured, such as 12.5 V."),
    ("", "V", 0, "Nothing was typed: type a number, such as 12.5 V."),
    ("   ", "V", 0, "Nothing was typed: type a number, such as 12.5 V."),
    ("volts", "V", 0, "There is no number here: type one, such as 12.5 V."),
    ("-", "V", 1, "There is no number here: type one, such as 12.5 V."),
    ("+-5", "V", 1, "There is more than one sign: type one, such as +12.5 V."),
    ("33 mm", "V", 3, "mm is a length, and a voltage is wanted: type V or mV."),
    ("70F", "V", 2, "degF is a temperature, and a voltage is wanted: type V or mV."),
    ("45 in", "N", 3, "in is a length, and a force is wanted: type N, kgf, lbf or ozf."),
    ("45 in-lb", "mm", 3, "lbf in is a torque, and a length is wanted: type mm, m, cm, in or ft."),
    ("5 parrots", "A", 2, "parrots is no unit of a current: type A or mA, or the number alone."),
    ("5 AWG", "mm", 2, "AWG is no unit of a length: type mm, m, cm, in or ft, or the number alone."),
    ("133 pcs", "", 4, "A count has no unit: type the number alone, such as 12."),
    ("2,0 V", "", 4, "V is a voltage; a count has no unit: type the number alone, such as 12."),
    ("5 MV", "V", 2, "MV would be millions of volts: type mV for thousandths."),
    ("5 MOHM", "ohm", 2, "Type mohm for thousandths of an ohm, or Mohm for millions."),
    ("5-3", "V", 1, "One number is wanted, not a sum or a range: type the number alone."),
    ("9**9**9**9", "V", 1, "One number is wanted, not a sum: type the number alone."),
    ("12 13", "V", 3, "Here begins a second number: type one, and part several readings with ;."),
    ("12 V / 13 V", "V", 3, "One number with one unit is wanted, such as 12.5 V."),
    ("12; 13", "V", 2, "One number with one unit is wanted, such as 12.5 V."),
    ("24/25", "V", 2, "A voltage is typed as a decimal, such as 12.5 V."),
    ("1/0 in", "in", 2, "A fraction is parted in 1 to 1000, such as 5/16."),
    ("1 17/16 in", "in", 2, "After a whole number the fraction is below one, such as 1 5/16."),
    ("1/2/3 in", "in", 3, "A fraction is one whole number over another, such as 5/16."),
    ("5/15 in", "in", 2, "An inch is parted in 2, 4, 8, 16, 32 or 64: type one of these or a decimal."),
    ("15 ft 14 in", "m", 6, "After ft the in are below 12, such as 15 ft 2 in."),
    ("15.5 ft 2 in", "m", 0, "Before in the ft are a whole number, such as 15 ft 2 in."),
    ("15 ft 2 mm", "m", 8, "After ft only in can follow, such as 15 ft 2 in."),
    ("OL", "V", 0, "Over range is no answer here: type a number, such as 12.5 V."),
    ("x" * 41, "V", 40, "This is 41 characters long: type one reading, at most 40 characters."),
    ("5\t", "V", 1, "There is a hidden control character here: delete the entry and type it by hand."),
    ("5\u202e", "V", 1, "There is a hidden control character here: delete the entry and type it by hand."),
    ("１２", "V", 0, "This is a digit of another script or width: type a plain 1."),
    ("٣ V", "V", 0, "This is a digit of another script or width: type a plain 3."),
    ("5 \N{BATTERY}", "V", 2, "The character battery has no place in a reading: type digits and a unit."),
]


@pytest.mark.parametrize(("text", "unit", "column", "sentence"), REFUSED)
def test_a_fault_says_where_and_what_would_be_right(text, unit, column, sentence):
    fault = read(text, unit)
    assert isinstance(fault, Fault)
    assert (fault.column, fault.sentence) == (column, sentence)


def test_the_caret_stands_under_the_fault():
    assert read("2.4.9", "V").caret() == "2.4.9\n   ^"


def test_a_reading_that_needs_a_sign_is_refused_without_one():
    fault = read("24.9", "V", signed=True)
    assert fault.sentence == "The sign is part of this reading: type +24.9 or -24.9, as the meter shows it."


def test_over_range_needs_its_sign_too_where_a_sign_is_demanded():
    assert isinstance(read("OL", "V", over_range=True, signed=True), Fault)


def test_a_unit_of_another_kind_after_over_range_is_refused():
    fault = read(" OL V ", "ohm", over_range=True)
    assert fault.sentence == "V is a voltage, and a resistance is wanted: type ohm, uohm, mohm, kohm or Mohm."
    assert fault.column == 4


def test_a_fault_never_carries_what_a_terminal_would_obey():
    assert read("5\x1b[2J", "V").raw == "5?[2J"


def test_a_unit_that_is_not_ours_is_a_mistake_of_the_procedure():
    with pytest.raises(UnknownUnit, match="'furlong' is not a unit known here; the units are V, mV, A"):
        read("5", "furlong")


def test_a_line_longer_than_its_readings_can_be_is_refused_by_its_length():
    fault = several("1;" * 100, Wanted("V"), Wanted("V"))
    assert fault.sentence == "This is 200 characters long: type 2 readings, at most 82 characters."


def test_a_sentence_repeats_an_entry_without_the_signs_that_cannot_be_seen():
    assert "type +5 V or -5 V" in read("5\N{NO-BREAK SPACE}V", "V", signed=True).sentence
