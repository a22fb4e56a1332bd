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


@pytest.mark.parametrize(("current", "verdict"), [("33.6", "pass"), ("33.5", "undecided")])
def test_valid_from_seven_tenths_of_rated_current(current: str, verdict: str) -> None:
    # Source: this project's rule: 0.7 x 48 = 33.6 A.
    found = measured("heat", EXACT, positive="25", negative="25", ambient="22", **(RATED | {"current": current}))
    assert found.verdict == verdict


@pytest.mark.parametrize(("minutes", "verdict"), [("10", "pass"), ("9", "undecided")])
def test_ten_minutes_of_soak(minutes: str, verdict: str) -> None:
    # Source: common practice (quoted): ten minutes under load.
    found = measured("heat", EXACT, positive="30", negative="30", ambient="22", **(RATED | {"minutes": minutes}))
    assert found.verdict == verdict


@pytest.mark.parametrize(
    ("minutes", "rising", "verdict"),
    [
        ("10", "yes", "undecided"),
        ("10", "no", "pass"),
        ("9", "no", "undecided"),
        ("1", "no", "undecided"),
        ("0", "no", "undecided"),
    ],
)
def test_ten_minutes_are_wanted_whatever_is_said_of_rising(minutes: str, rising: str, verdict: str) -> None:
    # Source: common practice (quoted): with a time constant of ten minutes one minute shows a tenth of the rise.
    typed = RATED | {"minutes": minutes, "rising": rising}
    assert measured("heat", EXACT, positive="30", negative="30", ambient="22", **typed).verdict == verdict


@pytest.mark.parametrize("degrees", ["33", "36", "38", "41", "46"])
def test_near_the_good_limit_is_marginal_like_what_lies_over_it(degrees: str) -> None:
    # Source: this project's rule: in 18.5 degC air at 44 of 48 A these are 17 to 33 K +- 5 K at rated current: none is
    # surely within 20 K, all are surely within 40 K, so each asks the same of a person.
    found = judged("heat", positive=degrees, negative=degrees, ambient="18.5", current="44", rated="48", minutes="10")
    assert found.verdict is Verdict.MARGINAL


@pytest.mark.parametrize(
    ("positive", "negative", "verdict"),
    [
        ("50", "30", "fail"),
        ("34", "33", "undecided"),
        ("70", "69", "fail"),
        ("69.9", "69", "fail"),
        ("20", "19", "undecided"),
    ],
)
def test_little_current_lets_nothing_hot_through(positive: str, negative: str, verdict: str) -> None:
    # Worked by hand, 12 of 60 A in 18 degC air, taken as if it were 42 A: (60 / 42)^2 = 2.04. A pair 20 K apart is
    # over 40 K, a rise of 51.9 K over 100 K; 16 K are 33 K, which is no fail and no pass either.
    found = judged("heat", positive=positive, negative=negative, ambient="18", current="12", rated="60", minutes="10")
    assert found.verdict == verdict


@pytest.mark.parametrize(("degrees", "hands"), [("69.9", False), ("70", True), ("200", True)])
def test_metal_too_hot_to_touch_stops_the_work_at_any_current(degrees: str, hands: bool) -> None:
    # Source: BS 7671:1992, table 42A: 70 degC for metal that may be touched and is not held.
    found = judged(
        "heat", positive=degrees, negative="60", ambient="20", current="127.5", rated="9", minutes="20", rising="no"
    )
    assert bool(found.hands) is hands


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
