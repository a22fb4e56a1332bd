"""A limit is said as a sentence for people, in the units of its entries, with the values that are there."""

import pytest

from engine.procedure.limit import parse, parse_number

UNITS = {
    **dict.fromkeys(["strip_length", "barrel_depth"], "mm"),
    **dict.fromkeys(["before", "after"], "V"),
    **dict.fromkeys(["t_pos", "t_amb"], "degC"),
    "load": "A",
    "taps": "yes/no",
    "wire_size": "wire",
    "count": "",
    "gap": "in",
}
VALUES = {
    "strip_length": 0.0115,
    "barrel_depth": 0.012,
    "before": 24.9,
    "after": 23.9,
    "t_pos": 41.0,
    "t_amb": 21.0,
    "load": 48.0,
    "taps": True,
    "count": 133.0,
    "gap": 0.0254,
}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("strip_length >= barrel_depth - 1 mm", "at least 11.0 mm: barrel depth 12.0 mm less 1 mm"),
        ("strip_length <= barrel_depth + 2 mm", "at most 14.0 mm: barrel depth 12.0 mm plus 2 mm"),
        ("strip_length > 5 mm", "above 5 mm"),
        ("5 mm < strip_length", "above 5 mm"),
        ("strip_length < barrel_depth", "below 12.0 mm: barrel depth"),
        ("gap <= 1 in", "at most 1 in"),
        ("gap <= gap - 0.5 in", "at most 0.5 in: gap 1.0 in less 0.5 in"),
        ("load <= 80 % * load", "at most 38.4 A: 80 % times load 48.0 A"),
        ("before - after <= 1 V", "before 24.9 V less after 23.9 V at most 1 V"),
        (
            "(before - after) / load <= 20 mohm",
            "(before 24.9 V less after 23.9 V) divided by load 48.0 A at most 20 mohm",
        ),
        ("abs(before - after) <= 1 V", "the size of (before 24.9 V less after 23.9 V) at most 1 V"),
        ("t_pos <= t_amb + 20 K", "at most 41.0 degC: t amb 21.0 degC plus 20 K"),
        ("1 mm <= strip_length <= 3 mm", "strip length at least 1 mm and strip length at most 3 mm"),
        ('taps == "yes" or load > 5 A', "taps is yes or load above 5 A"),
        ('wire_size != "8 AWG"', "wire size is not 8 AWG"),
        ('load == 5 A or load == 9 A or taps == "no"', "load exactly 5 A or load exactly 9 A or taps is no"),
        ('taps == "no" and (load == 5 A or load == 9 A)', "taps is no and (load exactly 5 A or load exactly 9 A)"),
        ('not (taps == "no")', "not (taps is no)"),
        ("count >= 10", "at least 10"),
        ("count >= count - 3", "at least 130: count 133 less 3"),
        ("load >= max(10 A, load)", "at least 48.0 A: the largest of 10 A and load 48.0 A"),
        ("before - (after - 1 V) > 0 V", "before 24.9 V less (after 23.9 V less 1 V) above 0 V"),
    ],
)
def test_a_limit_is_said_with_its_values(text: str, said: str) -> None:
    assert parse(text, UNITS).says(VALUES) == said


def test_without_values_only_the_names_are_said() -> None:
    assert parse("strip_length >= barrel_depth - 1 mm", UNITS).says({}) == "at least barrel depth less 1 mm"


def test_a_sum_is_said_with_its_values() -> None:
    assert parse_number("before - after", UNITS).says(VALUES) == "before 24.9 V less after 23.9 V"


def test_a_value_is_said_in_the_unit_of_its_entry() -> None:
    assert parse("gap < other", {"gap": "in", "other": "in"}).says({"other": 0.0508}) == "below 2.0 in: other"
