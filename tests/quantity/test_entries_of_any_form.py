"""One reader for every form of entry: one meaning of yes, of a choice, of words, beside numbers and labels."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.quantity import Amount, Fault, Label, Question, Wanted, WireSize, read, read_entry, read_pin_map
from engine.quantity.wanted import LABEL_UNITS

COLOURS = Wanted("choice", choices=("red", "green", "grey", "2"))


@pytest.mark.parametrize(
    ("text", "value"), [("yes", True), (" Y ", True), ("TRUE", True), ("1", True), ("No", False), ("2", False)]
)
def test_yes_has_one_meaning(text, value):
    assert read_entry(text, Wanted("yes/no")) == Label(text, value)


@pytest.mark.parametrize("text", ["", "yep", "0", "3", "yes no", "oui", "yes\x1b"])
def test_what_is_not_yes_or_no_is_refused(text):
    assert isinstance(read_entry(text, Wanted("yes/no")), Fault)


@pytest.mark.parametrize(
    ("text", "choice"), [("Red", "red"), ("r", "red"), ("gree", "green"), ("3", "grey"), ("2", "2"), ("4", "2")]
)
def test_a_choice_is_its_word_what_only_it_begins_with_or_its_number(text, choice):
    """The word wins over the number: a choice that is called 2 is meant by 2."""
    assert read_entry(text, COLOURS) == Label(text, choice)


@pytest.mark.parametrize(
    ("text", "hint"),
    [("gr", "Did you mean green or grey?"), ("gren", "Did you mean green?"), ("5", ""), ("-1", ""), ("²", "")],
)
def test_another_choice_is_refused_with_all_there_are(text, hint):
    fault = read_entry(text, COLOURS)
    assert fault.sentence == f"Type one of 1 red, 2 green, 3 grey, 4 2. {hint}".strip()


def test_words_are_one_line_of_what_was_typed():
    assert read_entry("  behind the panel ", Wanted("words")).value == "behind the panel"
    assert isinstance(read_entry("two\nlines", Wanted("words")), Fault)
    assert isinstance(read_entry("x" * 201, Wanted("words")), Fault)


def test_numbers_wires_and_pin_maps_are_read_as_by_their_own_readers():
    assert read_entry("12,5", Wanted("V")) == read("12,5", "V")
    assert read_entry("+1.000,5", Wanted("V", signed=True)) == read("+1.000,5", "V", signed=True)
    assert read_entry("8", Wanted("wire")) == read("8", "wire")
    wanted = Wanted("pin map", near=("1", "2"), far=("a",), measured=False)
    assert read_entry("1-a 2-OL", wanted).value == "1-a 2-OL"
    assert read_entry("1-a=5 2-OL", wanted) == read_pin_map("1-a=5 2-OL", ("1", "2"), ("a",), measured=False)


@given(st.text(max_size=220), st.sampled_from(["V", *LABEL_UNITS]))
def test_any_text_gives_one_of_five_outcomes(text, unit):
    wanted = Wanted(unit, choices=("red", "green"), near=("1", "2"))
    assert isinstance(read_entry(text, wanted), Amount | WireSize | Label | Fault | Question)
