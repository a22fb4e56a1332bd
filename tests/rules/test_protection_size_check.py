"""The size of a fuse or breaker: its window, what is marginal, and what to change."""

import pytest

from engine.finding import Finding, Verdict
from tests.rules.judging import judged


def sized(profile: str = "industry", **typed: str) -> Finding:
    return judged("protection-size", profile, **{"load": "48 A", "allowable": "80 A", "device": "60 A"} | typed)


def test_the_window_of_the_bow_motor() -> None:
    """[48, min(1.5 x 80, 60)] A: 50 and 60; 33 CFR 183.455(c)(1) and the part's own rating."""
    values = sized(fitted="60 A").values
    assert (values["window_low_a"], values["window_high_a"], values["sizes_a"]) == (48, 60, (50, 60))


@pytest.mark.parametrize(
    ("fitted", "verdict"),
    [("60", "pass"), ("50", "marginal"), ("40", "fail"), ("70", "fail"), ("0", "fail"), ("125", "fail")],
)
def test_what_is_fitted_is_judged(fitted: str, verdict: str) -> None:
    """50 A lacks the reserve for hours, 1.25 x 48; common practice, no source."""
    assert sized(fitted=fitted).verdict == verdict


def test_without_long_runs_fifty_will_do() -> None:
    assert sized(fitted="50", continuous="no").verdict is Verdict.PASS


def test_no_size_named_gives_the_window_and_the_choice() -> None:
    found = sized()
    assert (found.verdict, found.sentence) == (Verdict.MISSING, "no size named; 60 A fits")


def test_none_fitted_is_a_fail_that_says_what_to_fit() -> None:
    found = sized(fitted="0")
    assert (found.sentence, found.remedy) == ("no fuse or breaker: a short burns the whole run", "fit one of 60 A")


def test_above_the_wires_figure_is_marginal_in_practice_and_allowed_federally() -> None:
    """14 AWG of 35 A with 40 A fitted: ABYC E-11 as quoted against 33 CFR 183.455(c)(1)."""
    typed = {"load": "30", "allowable": "35", "device": "100", "fitted": "40"}
    assert sized(**typed).verdict is Verdict.MARGINAL
    assert sized("federal", **typed).verdict is Verdict.PASS
    assert sized("house", **typed).verdict is Verdict.FAIL


def test_one_and_a_half_times_the_wire_is_a_ceiling_everywhere() -> None:
    """33 CFR 183.455(c)(1): 52.5 A for a wire of 35 A."""
    for profile in ("federal", "industry", "house"):
        assert sized(profile, load="30", allowable="35", device="100", fitted="60").verdict is Verdict.FAIL


def test_above_the_part_only_if_the_load_limits_itself_and_its_maker_names_that_size() -> None:
    """60 A on a 50 A part; common practice, no source."""
    typed = {"load": "40", "allowable": "120", "device": "50", "fitted": "60"}
    assert sized(**typed).verdict is Verdict.FAIL
    assert sized(**typed, self_limiting="yes").verdict is Verdict.FAIL
    assert sized(**typed, self_limiting="yes", maker_size="70").verdict is Verdict.FAIL
    assert sized(**typed, self_limiting="yes", maker_size="60").verdict is Verdict.MARGINAL
    assert sized("house", **typed, self_limiting="yes", maker_size="60").verdict is Verdict.FAIL


def test_the_exception_ends_at_a_quarter_above_the_part() -> None:
    typed = {
        "load": "40",
        "allowable": "120",
        "device": "50",
        "self_limiting": "yes",
        "fitted": "70",
        "maker_size": "70",
    }
    assert sized(**typed).verdict is Verdict.FAIL


def test_a_part_without_reserve_calls_for_a_bigger_part_never_a_bigger_breaker() -> None:
    """1.25 x 48 = 60 A on a 50 A receptacle; common practice, no source."""
    found = sized(device="50", fitted="50")
    assert found.verdict is Verdict.MARGINAL
    assert found.remedy == "fit a part rated 60 A or more, never a bigger breaker"


def test_a_part_below_the_load_leaves_no_window() -> None:
    found = sized(device="30")
    assert found.verdict is Verdict.FAIL
    assert found.sentence == "no size fits: the 30 A part is below the 48 A load"
    assert found.remedy == "fit a part rated 60 A or more"


def test_a_wire_below_the_load_leaves_no_window() -> None:
    found = sized(allowable="30")
    assert (found.verdict, found.remedy) == (Verdict.FAIL, "use a larger wire")


def test_from_fifty_volts_the_next_size_up_is_the_most() -> None:
    """33 CFR 183.455(c)(2): 100 % of the wire, or the next larger size."""
    typed = {"load": "30", "allowable": "42", "device": "100", "nominal": "60", "continuous": "no"}
    assert sized("federal", **typed, fitted="45").verdict is Verdict.MARGINAL
    assert sized("federal", **typed, fitted="50").verdict is Verdict.FAIL


def test_the_federal_base_is_the_plain_table_figure() -> None:
    """33 CFR 183.455(c)(1) names no engine-space factor: 1.5 x 35, not 1.5 x 29.75."""
    typed = {"load": "25", "allowable": "29.75", "table_allowable": "35", "device": "100", "fitted": "50"}
    assert sized("federal", **typed).verdict is Verdict.PASS
    assert sized(**typed).verdict is Verdict.FAIL


def test_leaving_out_the_part_is_asked_for() -> None:
    found = judged("protection-size", load="48", allowable="80")
    assert found.sentence == "not measured: lowest rating in series: receptacle, plug, switch"


def test_from_fifty_volts_on_window_and_sizes_end_where_the_verdict_does() -> None:
    """33 CFR 183.455(c)(2): the wire's own 80 A, a standard size; 90 A is over it."""
    found = judged("protection-size", load="50 A", allowable="80 A", device="200 A", nominal="72 V", fitted="90 A")
    assert found.verdict is Verdict.FAIL
    assert found.values["window_high_a"] == 80
    assert max(found.values["sizes_a"]) == 80


@pytest.mark.parametrize(
    ("air", "holds_a", "verdict"),
    [
        ({"ambient": "40"}, 60.0, "pass"),
        ({"engine_space": "yes"}, 55.2, "pass"),
        ({"ambient": "60"}, 49.9, "marginal"),
        ({"ambient": "65"}, 47.1, "fail"),
    ],
)
def test_a_breaker_holds_less_in_warm_air(air: dict[str, str], holds_a: float, verdict: str) -> None:
    """ANSI/IEEE C37.20.1 as quoted: sqrt((105 - T) / 65) of 60 A; 1.1 x 48 = 52.8 A is this project's rule."""
    found = sized(fitted="60 A", **air)
    assert found.values["holds_a"] == pytest.approx(holds_a, abs=0.05)
    assert found.verdict == verdict


@pytest.mark.parametrize(("degrees", "printed_a"), [("55", 56.7), ("60", 53.6)])
def test_what_a_breaker_holds_is_near_a_printed_table_of_small_breakers(degrees: str, printed_a: float) -> None:
    """A public derating table of 63 A devices set at 40 degC: 56.7 A at 55, 53.6 A at 60 degC; 3 % apart at most."""
    found = judged("protection-size", load="40", allowable="200", device="200", fitted="63", ambient=degrees)
    holds_a = found.values["holds_a"]
    assert isinstance(holds_a, float)
    assert 0.97 * printed_a < holds_a <= printed_a


def test_a_fuse_is_not_judged_by_its_air() -> None:
    assert sized(fitted="60", kind="fuse", ambient="65").values["holds_a"] is None


@pytest.mark.parametrize(("at_once", "verdict"), [("300", "pass"), ("240", "marginal")])
def test_a_start_that_reaches_what_trips_a_magnetic_breaker_is_marginal(at_once: str, verdict: str) -> None:
    """Five times 48 A for a moment, against the least current of its curve; this project's rule."""
    assert sized(fitted="60", inrush="240", at_once=at_once).verdict == verdict


def test_without_its_curve_a_start_is_said_to_be_not_judged() -> None:
    found = sized(fitted="60", inrush="240")
    assert found.verdict is Verdict.PASS
    assert any("is not judged" in said for said in found.conditions)
