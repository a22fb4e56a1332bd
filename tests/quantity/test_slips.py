"""Slips of the hand: planted ones are asked about, good entries are left alone, nothing changes silently."""

import csv
import tomllib
from pathlib import Path

import pytest

from engine.quantity import Amount, Question, read, slip, to_base

HERE = Path(__file__).parent
READINGS = tomllib.loads((HERE / "readings.toml").read_text())


def rows(name):
    with (HERE / name).open(newline="") as file:
        return list(csv.DictReader(file, delimiter="\t"))


PLANTED = rows("slips.tsv")
GOOD = rows("good_entries.tsv")


def ranges(reading):
    return [tuple(to_base(limit, reading["unit"]) for limit in reading[name]) for name in ("likely", "hard")]


def asked_about(row):
    reading = READINGS[row["reading"]]
    signed = reading.get("signed", False)
    typed = read(row["typed"], reading["unit"], signed=signed)
    assert isinstance(typed, Amount), row
    return slip(typed, *ranges(reading), reading["unit"], sign=not signed)


def offers_what_was_meant(row):
    """True if the question has the true number among its choices, to what rounding to a typed inch leaves (0.6 %)."""
    question = asked_about(row)
    meant = read(row["meant"], READINGS[row["reading"]]["unit"]).number
    return question is not None and any(n.number == pytest.approx(meant, rel=0.006) for _, n in question.choices[1:])


def test_the_lists_are_as_long_as_they_must_be():
    assert len(PLANTED) >= 60
    assert len(GOOD) >= 300


def test_of_planted_slips_95_in_100_are_asked_about_with_what_was_meant():
    missed = [row for row in PLANTED if not offers_what_was_meant(row)]
    assert len(missed) <= 0.05 * len(PLANTED), missed


def test_of_good_entries_at_most_5_in_100_are_asked_about():
    questioned = [row for row in GOOD if asked_about(row) is not None]
    assert len(questioned) <= 0.05 * len(GOOD), questioned


def test_good_entries_are_not_all_inside_the_usual_range():
    """Otherwise the count of false questions would be nought by construction."""
    assert sum(row["how"] == "unusual and true" for row in GOOD) >= 0.15 * len(GOOD)


def test_an_entry_inside_the_usual_range_is_never_asked_about():
    assert [row for row in GOOD if row["how"] == "usual" and asked_about(row)] == []


def volts(text, likely, hard=(-60, 60), **options):
    return slip(read(text, "V"), likely, hard, "V", **options)


def test_the_first_choice_is_as_typed():
    question = volts("249", (23, 26), (10, 400))
    assert question.choices[0] == ("as typed: 249 V", read("249", "V"))


def test_a_choice_that_would_be_refused_says_so():
    assert volts("249", (23, 26)).choices[0][0] == "as typed: 249 V, outside -60 to 60 V"


def test_the_question_is_one_sentence_with_both_units():
    question = slip(read("17", "m"), (2, 7), (0.3, 15), "m")
    assert question.sentence == "17 m is outside the usual 2 to 7 m. Did you mean 17 ft (5.2 m)?"


def test_every_choice_keeps_the_raw_text():
    question = volts("2,49", (23, 26))
    assert {meant.raw for _, meant in question.choices} == {"2,49"}


def test_the_meaning_of_a_wrong_unit_is_the_typed_number_in_the_other_unit():
    question = slip(read("77", "degC"), (10, 40), (-20, 200), "degC")
    meant = question.choices[1][1]
    assert (meant.number, meant.unit) == (25.0, "degF")


def test_two_slips_of_different_size_are_too_weak_a_guess():
    assert slip(read("5.98", "mm"), (0.05, 0.178), (0, 3), "mm") is None


def test_ten_times_and_inch_pounds_are_one_slip_with_two_wordings():
    question = slip(read("45", "N m"), (3, 12), (0.5, 30), "N m")
    assert [words for words, _ in question.choices[1:]] == ["45 lbf in (5.1 N m)", "4.5 N m"]


def test_outside_the_possible_range_with_no_slip_is_left_to_be_refused():
    assert volts("9999", (23, 26), (10, 60)) is None


def test_a_wrong_sign_is_asked_about():
    assert volts("-24.9", (23, 26)).choices[1][1].number == 24.9


def test_where_polarity_is_measured_the_sign_is_the_answer_and_never_questioned():
    assert volts("-24.9", (23, 26), sign=False) is None


@pytest.mark.parametrize("live", ["24.9", "12.4", "-24.9", "49.8", "0.4"])
def test_a_live_wire_is_never_offered_as_a_dead_one(live):
    assert volts(live, (-0.05, 0.05), (-100, 100)) is None


def test_fahrenheit_is_asked_about_though_zero_celsius_is_usual():
    question = slip(read("77", "degC"), (-10, 45), (-20, 300), "degC")
    assert [words for words, _ in question.choices[1:]] == ["77 degF (25.0 degC)"]


def test_a_count_is_never_offered_as_a_broken_number():
    assert slip(read("1335", ""), (19, 140), (7, 2000), "") is None


def test_over_range_is_never_asked_about():
    assert slip(read("OL", "ohm", over_range=True), (33, 240), (0, 2000), "ohm") is None


def test_a_question_comes_back_as_a_question_and_the_entry_is_unchanged():
    typed = read("249", "V")
    assert isinstance(slip(typed, (23, 26), (10, 60), "V"), Question)
    assert typed == read("249", "V")
