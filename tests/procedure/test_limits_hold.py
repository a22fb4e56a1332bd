"""A limit holds, does not hold, or cannot be told: arithmetic on base units against the same sum in Python."""

import math
import pickle

import pytest

from engine.procedure.limit import Expression, parse, parse_number

UNITS = {
    "strip": "mm",
    "depth": "mm",
    "load": "A",
    "before": "V",
    "after": "V",
    "hot": "degC",
    "ambient": "degC",
    "turns": "",
    "share": "%",
    "area": "mm2",
    "pull": "N",
    "arm": "mm",
    "set_torque": "lbf in",
    "charge": "Ah",
    "soak": "min",
    "taps": "yes/no",
    "wire": "wire",
    "kind": "choice",
    "note": "words",
    "gap": "in",
}
VALUES = {
    "strip": 0.0115,
    "depth": 0.012,
    "load": 48.0,
    "before": 24.9,
    "after": 23.9,
    "hot": 41.0,
    "ambient": 21.0,
    "turns": 3.0,
    "share": 2.5,
    "area": 8.37,
    "pull": 100.0,
    "arm": 0.05,
    "set_torque": 5.0843,
    "charge": 80.0,
    "soak": 600.0,
    "taps": True,
    "wire": "8 AWG",
    "kind": "lead",
    "note": "green",
    "gap": 0.0254,
}


def limit(text: str) -> Expression:
    return parse(text, UNITS, {"kind": ("lead", "lithium")})


@pytest.mark.parametrize(
    "text",
    [
        "strip >= depth - 1 mm",
        "strip > 11.4 mm and strip < 11.6 mm",
        "11 mm <= strip <= 12 mm",
        "20 mm > strip >= 1 mm",
        "abs(after - before) <= 1.001 V",
        "(before - after) / load <= 21 mohm",
        "(before - after) / before <= 5 %",
        "100 * share > 200 %",
        "share * load < 2 A",
        "hot - ambient == 20 K",
        "hot <= ambient + 20 K",
        "hot > 40 degC",
        "hot < 105.9 degF",
        "gap == 1 in",
        "min(strip, depth) == strip",
        "max(strip, depth, 13 mm) == 13 mm",
        "max((before - after) / before, 1 %) > 4 %",
        "turns * 2 == 6",
        "area <= 8.4 mm2",
        "strip * depth < 140 mm2",
        "pull * arm <= 5 N m",
        "set_torque >= 44.9 lbf in",
        "before * load > 1 kW",
        "charge / load > 1 h",
        "load * soak < 9 Ah",
        "soak >= 10 min",
        "-load < 0 A",
        "-5 degC < ambient",
        'taps == "yes"',
        'taps != "no"',
        'not (taps == "no")',
        'wire == "#8"',
        'wire != "1/0"',
        'kind == "lead" or load > 100 A',
        '"green" == note',
        "not strip > depth",
        "strip < depth or load > 100 A and load < 10 A",
    ],
)
def test_a_limit_that_the_values_meet_holds(text: str) -> None:
    assert limit(text).holds(VALUES) is True


@pytest.mark.parametrize(
    "text",
    [
        "strip >= depth",
        "12 mm <= strip <= 13 mm",
        "before - after < 1 V - 0.001 V",
        "(before - after) / load <= 20 mohm",
        "hot - ambient > 20 K",
        'taps == "no"',
        'wire == "SAE 8"',
        'kind == "lithium"',
        "(strip < depth or load > 100 A) and load < 10 A",
    ],
)
def test_a_limit_that_the_values_miss_does_not_hold(text: str) -> None:
    assert limit(text).holds(VALUES) is False


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("strip >= depth", {"strip": 0.01}),
        ("strip >= depth", {"strip": 0.01, "depth": None}),
        ("before / load > 1 ohm", {"before": 1.0, "load": 0.0}),
        ("before - after > 1 V", {"before": math.inf, "after": math.inf}),
        ("before - after < 1 V", {"before": math.inf, "after": math.inf}),
        ('wire == "8 AWG"', {"wire": None}),
        ('wire != "8 AWG"', {}),
        ('not (taps == "yes")', {}),
        ('taps == "yes" and strip > 1 mm', {"taps": True}),
        ('taps == "yes" or strip > 1 mm', {"taps": False}),
    ],
)
def test_a_limit_whose_value_is_not_there_cannot_be_told(text: str, values: dict[str, float | None]) -> None:
    assert limit(text).holds(values) is None


@pytest.mark.parametrize(
    ("text", "values", "held"),
    [
        ('taps == "yes" or strip > 1 mm', {"taps": True}, True),
        ('strip > 1 mm or taps == "yes"', {"taps": True}, True),
        ('taps == "yes" and strip > 1 mm', {"taps": False}, False),
        ('strip > 1 mm and taps == "yes"', {"taps": False}, False),
    ],
)
def test_one_side_is_enough_when_it_decides(text: str, values: dict[str, bool], held: bool) -> None:
    assert limit(text).holds(values) is held


def test_an_over_range_reading_is_above_every_number() -> None:
    assert parse("leak > 1 Mohm", {"leak": "ohm"}).holds({"leak": math.inf}) is True


def test_the_names_are_the_entries_that_it_uses() -> None:
    assert limit('min(strip, depth) > 1 mm and not (taps == "yes")').names == {"strip", "depth", "taps"}


def test_a_sum_gives_its_number_in_base_units() -> None:
    assert parse_number("(before - after) / load", UNITS).number(VALUES) == pytest.approx(1.0 / 48.0)


def test_a_comparison_gives_the_number_that_it_is_held_against() -> None:
    assert limit("strip >= depth - 1 mm").number(VALUES) == pytest.approx(0.011)


def test_a_sum_without_its_value_gives_none() -> None:
    assert parse_number("before - after", UNITS).number({"before": 1.0}) is None


def test_a_limit_goes_through_a_pickle_and_still_holds() -> None:
    before = limit("strip >= depth - 1 mm")
    before.holds(VALUES)
    after = pickle.loads(pickle.dumps(before))
    assert (after, after.holds(VALUES)) == (before, True)


def test_two_limits_of_the_same_words_and_units_are_equal() -> None:
    assert limit("strip > 1 mm") == limit("strip > 1 mm")


def test_the_same_words_over_other_units_are_another_limit() -> None:
    assert parse("gap > 0 mm", {"gap": "mm"}) != parse("gap > 0 mm", {"gap": "in"})
