"""A limit that cannot be read is refused in one sentence that says what is wrong and what would be right, and where."""

import pytest

from engine.procedure.limit import LimitFault, parse, parse_number

UNITS = {
    "strip": "mm", "depth": "mm", "load": "A", "before": "V", "hot": "degC", "ambient": "degC", "share": "%",
    "taps": "yes/no", "wire": "wire", "kind": "choice", "count": "", "pins": "pin map",
}  # fmt: skip

REFUSED = [
    ("strip >= 1", "strip, a length (m), and 1, a plain number, cannot be compared; 1 needs a unit, such as 1 mm", 6),
    ("strip >= load", "strip, a length (m), and load, a current (A), cannot be compared", 6),
    ("strip + load > 1 mm", "strip, a length (m), and load, a current (A), cannot be added", 6),
    ("share > 3", "share, a share (%), and 3, a plain number, cannot be compared; 3 needs a unit, such as 3 %", 6),
    ("hot + ambient > 3 K", "hot, a temperature (degC), and ambient, a temperature (degC), cannot be added", 4),
    ("hot - ambient > 3 degC", "a temperature difference (K) and 3 degC, a temperature (degC), cannot be compared", 14),
    ("hot * 2 > 3 degC", "a temperature cannot be multiplied or divided; a difference of two can", 4),
    ("-hot > 3 degC", "a temperature cannot be turned negative", 0),
    ("abs(hot) > 3 degC", "abs takes a difference of temperatures, not a temperature", 0),
    ("abs(strip, depth) > 3 mm", "abs takes one value", 0),
    ("min(strip) > 3 mm", "min needs two values or more, parted by a comma", 0),
    ("min(strip, load) > 3 mm", "strip, a length (m), and load, a current (A), cannot be compared", 0),
    ("strip > 1 / 4 in", "strip, a length (m), and in m-1 cannot be compared", 6),
    ("strip > 1 millimetrs", '"millimetrs" is not a unit of this program; did you mean "mm"?', 8),
    ("stripp > 1 mm", 'no fact or reading is called "stripp"; did you mean "strip"?', 0),
    ("zebra > 1 mm", 'no fact or reading is called "zebra"; name a fact or a reading of this procedure', 0),
    ('taps == "maybe"', '"maybe" is not yes or no', 5),
    ('kind == "agm"', '"agm" is not a choice of kind; it has lead, lithium', 5),
    ('taps >= "yes"', "labels can only be compared with == and !=", 5),
    ("taps", 'compare it: taps == "yes"', 0),
    ("taps and load > 1 A", 'compare it: taps == "yes"', 5),
    ("load", "this says nothing yet: compare it with something, such as >= 1 mm", 0),
    ("not load", "this says nothing yet: compare it with something, such as >= 1 mm", 0),
    ('pins == "1-1 2-2"', "a pin map is judged by the check pin-map, not by a limit", 0),
    ("wire == kind", "wire (wire) and kind (choice) cannot be compared", 5),
    ("wire == 8", "a number and a label cannot be compared", 5),
    ("wire + 1 > 2", "wire is no number (wire); compare it with == and a text in quotes", 5),
    ('load > "5 A"', "labels can only be compared with == and !=", 5),
    ('load + "5 A" > 1 A', '"5 A" is a text; write a number with its unit, without quotes', 5),
    ("(load > 1 A) + 1 A > 2 A", "a comparison is no number; join comparisons with and, or", 13),
    ("1 A < load > 2 A", "only a range such as 1 mm <= gap <= 3 mm has two signs; else use and", 11),
    ("1 A < load < 2 A < 3 A", "one comparison too many; join them with and", 17),
    ("load > 1 A 2", '"2" is one too many here', 11),
    ("load > ", "the end stands where a name or a number should be", 7),
    ("", "the end stands where a name or a number should be", 0),
    ("(load > 1 A", '")" is missing before the end', 11),
    ("min load, 2 A) > 1 A", '"(" is missing before "load"', 4),
    ("load = 1 A", '"=" is not a sign of a limit: compare with ==, <= or >=', 5),
    ("load > .5 A", '"." is not a sign of a limit: write a number with a digit before the point, such as 0.5', 7),
    ("load ≥ 1 A", '"≥" is not a sign of a limit: write >=', 5),
    ("taps == 'yes'", '"\'" is not a sign of a limit: write labels in "..."', 8),
    ('taps == "yes', '""" is not a sign of a limit: the label has no closing quote', 8),
    ("load > 1 A & load < 2 A", '"&" is not a sign of a limit: write and', 11),
    ("load > 1234567890123456 A", "a number may have 15 digits", 7),
    ("load > 1 MA", "MA would be millions of amperes: type mA for thousandths.", 7),
    ("__import__ > 1", 'no fact or reading is called "__import__"; name a fact or a reading of this procedure', 0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sentence", "column"), REFUSED)
def test_a_faulty_limit_is_refused_with_its_place(text: str, sentence: str, column: int) -> None:
    with pytest.raises(LimitFault) as refused:
        parse(text, UNITS, {"kind": ("lead", "lithium")})
    assert (refused.value.sentence, refused.value.column) == (sentence, column)


def test_an_unknown_sign_is_named_with_all_that_a_limit_has() -> None:
    with pytest.raises(LimitFault) as refused:
        parse("load > 1 A; load", UNITS)
    assert refused.value.sentence == (
        '";" is not a sign of a limit: a limit has names, numbers with units, + - * / ( ) < <= > >= == != '
        "and, or, not, min, max, abs"
    )


def test_a_control_sign_is_named_by_its_number() -> None:
    with pytest.raises(LimitFault, match=r'^"U\+0007" is not a sign'):
        parse("load > 1 A \x07", UNITS)


def test_a_limit_over_200_characters_is_refused() -> None:
    with pytest.raises(LimitFault) as refused:
        parse("load > 1 A" + " " * 191, UNITS)
    assert refused.value.sentence == "a limit may have 200 characters, this one has 201; say it in two limits"


def test_a_limit_of_200_characters_is_read() -> None:
    assert parse("load > 1 A" + " " * 190, UNITS).holds({"load": 2.0}) is True


@pytest.mark.parametrize("opening", ["(", "-", "not ", "abs("])
def test_more_than_16_inside_one_another_are_refused(opening: str) -> None:
    with pytest.raises(LimitFault) as refused:
        parse(opening * 40 + "load", UNITS)
    assert refused.value.sentence == "more than 16 brackets and signs inside one another; say it in two limits"


def test_signs_beside_one_another_do_not_deepen_those_that_follow() -> None:
    with pytest.raises(LimitFault, match=r"^more than 16 brackets"):
        parse("not load > 1 A and " * 4 + "(" * 17 + "load > 1 A" + ")" * 17, UNITS)


def test_16_inside_one_another_are_read() -> None:
    assert parse("(" * 16 + "load > 1 A" + ")" * 16, UNITS).holds({"load": 2.0}) is True


def test_a_comparison_is_no_sum() -> None:
    with pytest.raises(LimitFault, match=r"^a comparison is no number; join comparisons with and, or$"):
        parse_number("load > 1 A", UNITS)
