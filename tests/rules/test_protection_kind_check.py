"""The kind of a fuse or breaker."""

import pytest

from engine.finding import Finding, Verdict
from tests.rules.judging import judged


def kind(**typed: str) -> Finding:
    return judged("protection-kind", **{"volts": "32", "nominal": "24", "interrupting": "3000", "cca": "800"} | typed)


def test_a_right_breaker_passes() -> None:
    """800 cold-cranking amperes want 3000 A; ABYC E-11 table V.A as quoted."""
    assert kind().verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("volts", "verdict"), [("12", "fail"), ("24", "marginal"), ("31.9", "marginal"), ("32", "pass")]
)
def test_volts_below_nominal_fail_and_below_charging_are_marginal(volts: str, verdict: str) -> None:
    """33 CFR 183.455(d): not below nominal. 32 V on a 24 V bank: common practice, no source."""
    assert kind(volts=volts).verdict == verdict


@pytest.mark.parametrize(
    ("typed", "needed"),
    [
        ({"cca": "600"}, 1500),
        ({"cca": "800"}, 3000),
        ({"cca": "800", "parallel": "2"}, 5000),
        ({"cca": "800", "position": "branch"}, 1500),
        ({"short_circuit": "7200"}, 7200),
    ],
)
def test_what_it_must_interrupt_goes_by_the_batteries_behind_it(typed: dict[str, str], needed: float) -> None:
    """ABYC E-11 table V.A as quoted: one battery of a string, the sum of parallel ones; a maker's figure wins."""
    assert kind(**typed).values["needed_interrupting_a"] == needed


def test_too_little_interrupting_capacity_fails() -> None:
    found = kind(interrupting="1500")
    assert found.verdict is Verdict.FAIL
    assert found.sentence == "interrupts 1500 A; needs 3000 A for 800 cold-cranking amps behind it"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"chemistry": "lithium"}, "a lithium bank needs its maker's short-circuit figure"),
        (
            {"nominal": "36", "volts": "60"},
            "the table is for 12 V and 24 V; other banks need the maker's short-circuit figure",
        ),
        ({"parallel": "3"}, "2400 cranking amps are over 2200: the maker's short-circuit figure is needed"),
    ],
)
def test_what_the_table_does_not_cover_is_undecided(typed: dict[str, str], said: str) -> None:
    found = kind(**typed)
    assert (found.verdict, found.sentence) == (Verdict.UNDECIDED, said)


def test_a_lithium_bank_with_its_makers_figure_is_decided() -> None:
    assert kind(chemistry="lithium", short_circuit="2500").verdict is Verdict.PASS


def test_a_capacity_that_was_not_read_is_missing() -> None:
    found = judged("protection-kind", volts="32", nominal="24", cca="800")
    assert (found.verdict, found.sentence) == (Verdict.MISSING, "interrupting capacity not read; 3000 A is needed")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"manual_reset": "no"}, "it resets by itself: it closes onto a short again"),
        ({"trip_free": "no"}, "not trip-free: a held handle keeps a short alive"),
        ({"vapour": "yes"}, "a spark in a petrol space: it must be ignition protected"),
    ],
)
def test_the_mechanism_is_looked_at(typed: dict[str, str], said: str) -> None:
    """33 CFR 183.455(a), 183.410."""
    found = kind(**typed)
    assert (found.verdict, found.sentence) == (Verdict.FAIL, said)


def test_a_fuse_has_no_reset_to_look_at() -> None:
    assert kind(kind="fuse", manual_reset="no", trip_free="no").verdict is Verdict.PASS


def test_what_else_is_wrong_stands_in_the_conditions() -> None:
    found = kind(volts="12", trip_free="no")
    assert found.conditions == ("not trip-free: a held handle keeps a short alive",)
