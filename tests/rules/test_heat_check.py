"""Heat of two terminals under load."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.registry import run
from tests.rules.judging import judged, measured

EXACT = {name: Accuracy(0, 0, 0) for name in ("positive", "negative", "ambient", "current")}
RATED = {"current": "48 A", "rated": "48 A", "minutes": "10"}


@pytest.mark.parametrize(
    ("degrees", "verdict"), [("40", "pass"), ("40.1", "marginal"), ("60", "marginal"), ("60.1", "fail")]
)
def test_bands_over_the_air(degrees: str, verdict: str) -> None:
    # Source: this project's rule: 20 and 40 K over 20 degC air, beside the classes of NETA MTS (quoted).
    assert measured("heat", EXACT, positive=degrees, negative=degrees, ambient="20", **RATED).verdict == verdict


@pytest.mark.parametrize(
    ("degrees", "verdict"), [("30", "pass"), ("30.1", "marginal"), ("40", "marginal"), ("40.1", "fail")]
)
def test_bands_of_the_pair(degrees: str, verdict: str) -> None:
    # Source: this project's rule: 5 and 15 K between the terminals; the rise stays under its own limit.
    assert measured("heat", EXACT, positive=degrees, negative="25", ambient="22", **RATED).verdict == verdict


def test_pair_limit_is_the_scaled_uncertainty_where_that_is_larger() -> None:
    # Source: this project's rule: two thermometers of 2.2 degC at 0.72 of rated current have U = 7 K.
    found = judged("heat", positive="27", negative="24", ambient="22", current="34.5", rated="48", minutes="10")
    assert found.values["pair_scaled_k"] > 5
    assert found.verdict is Verdict.PASS


def test_rise_is_scaled_by_the_square_law() -> None:
    # Source: Joule's law: (48 / 40)^2 = 1.44: 16 K are 23.04 K.
    found = measured("heat", EXACT, positive="38", negative="37", ambient="22", **(RATED | {"current": "40 A"}))
    assert found.values["rise_scaled_k"] == pytest.approx(23.04)


@pytest.mark.parametrize(("current", "verdict"), [("33.6", "pass"), ("33.5", "missing")])
def test_valid_from_seven_tenths_of_rated_current(current: str, verdict: str) -> None:
    # Source: this project's rule: 0.7 x 48 = 33.6 A.
    found = measured("heat", EXACT, positive="25", negative="25", ambient="22", **(RATED | {"current": current}))
    assert found.verdict == verdict


@pytest.mark.parametrize(("minutes", "verdict"), [("10", "pass"), ("9", "undecided")])
def test_ten_minutes_of_soak(minutes: str, verdict: str) -> None:
    # Source: common practice (quoted): ten minutes under load.
    found = measured("heat", EXACT, positive="30", negative="30", ambient="22", **(RATED | {"minutes": minutes}))
    assert found.verdict == verdict


@pytest.mark.parametrize(("rising", "verdict"), [("yes", "undecided"), ("no", "pass")])
def test_still_rising_is_not_settled(rising: str, verdict: str) -> None:
    # Source: this project's rule: ask "still rising?".
    typed = RATED | {"minutes": "8", "rising": rising}
    assert measured("heat", EXACT, positive="30", negative="30", ambient="22", **typed).verdict == verdict


def test_too_hot_already_is_a_fail_before_ten_minutes() -> None:
    # Source: heat does not fall while it rises.
    found = judged("heat", positive="90", negative="88", ambient="22", **(RATED | {"minutes": "3"}))
    assert found.verdict is Verdict.FAIL


@pytest.mark.parametrize(("hottest", "verdict"), [("45", "pass"), ("45.1", "fail")])
def test_part_that_people_touch_stays_under_60_on_the_hottest_day(hottest: str, verdict: str) -> None:
    # Source: this project's rule: 45 + 15 K = 60 degC.
    found = measured("heat", EXACT, positive="35", negative="35", ambient="20", hottest_ambient=hottest, **RATED)
    assert found.verdict == verdict


def test_colder_than_the_air_is_a_wrong_reading() -> None:
    # Source: a loaded terminal is not colder than its air.
    assert judged("heat", positive="15", negative="15", ambient="30", **RATED).verdict is Verdict.UNDECIDED


def test_fahrenheit_gives_the_same_finding() -> None:
    # Source: degF = 1.8 degC + 32 by definition.
    fahrenheit = judged("heat", positive="95 F", negative="93.2 F", ambient="71.6 F", **RATED)
    celsius = judged("heat", positive="35 C", negative="34 C", ambient="22 C", **RATED)
    assert (fahrenheit.verdict, fahrenheit.sentence) == (celsius.verdict, celsius.sentence)


@given(st.floats(22, 90), st.floats(22, 90), st.floats(0.71, 1.2))
def test_changing_the_poles_over_changes_nothing(one: float, other: float, share: float) -> None:
    # Source: symmetry of the pair.
    given_values = {"ambient": 22.0, "current": 48 * share, "rated": 48.0, "minutes": 600.0}
    context = Context(profile(), EXACT)
    first = run("heat", given_values | {"positive": one, "negative": other}, context)
    second = run("heat", given_values | {"positive": other, "negative": one}, context)
    assert first.verdict is second.verdict


@given(st.floats(0, 60), st.floats(0.71, 1.0), st.floats(0.71, 1.0))
def test_less_current_for_the_same_rise_is_never_better(rise: float, one: float, other: float) -> None:
    # Source: Joule's law: the same rise at less current is more at rated current.
    context = Context(profile(), EXACT)
    found = [
        run(
            "heat",
            {
                "positive": 22 + rise,
                "negative": 22 + rise,
                "ambient": 22.0,
                "current": 48 * share,
                "rated": 48.0,
                "minutes": 600.0,
            },
            context,
        ).verdict.severity
        for share in sorted((one, other))
    ]
    assert found[0] >= found[1]
