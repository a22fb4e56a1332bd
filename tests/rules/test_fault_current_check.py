"""Whether a breaker trips on a short at the far end."""

import pytest

from engine.finding import Finding, Verdict
from tests.rules.judging import judged


def short(**typed: str) -> Finding:
    return judged("fault-current", **{"open_circuit": "24.9 V", "internal": "12 mohm", "loop": "21.43 mohm"} | typed)


def test_the_bow_is_as_worked() -> None:
    """24.9 V / 33.43 mohm: 745 A, 15 times a 50 A breaker; 2075 A at the bank."""
    found = short(fitted="50 A")
    assert found.verdict is Verdict.PASS
    assert found.values["current_a"] == pytest.approx(745, abs=0.5)
    assert found.values["source_current_a"] == pytest.approx(2075)
    assert found.values["trip_multiple"] == pytest.approx(14.9, abs=0.05)


@pytest.mark.parametrize(
    ("loop", "verdict"),
    [
        ("21 mohm", "pass"),
        ("62 mohm", "pass"),
        ("64 mohm", "marginal"),
        ("150 mohm", "marginal"),
        ("237 mohm", "undecided"),
        ("400 mohm", "fail"),
    ],
)
def test_a_long_thin_run_may_never_trip_its_breaker(loop: str, verdict: str) -> None:
    """Five times its rating trips, under twice may not; through an arc (0.3 of it) twice, so 6.67 times: 62.7 mohm."""
    assert short(loop=loop, fitted="50 A").verdict == verdict


def test_a_short_through_an_arc_is_said() -> None:
    """By hand: 24.9 V / 76 mohm = 328 A, of which an arc draws 98.3 A: 1.97 times 50 A."""
    found = short(loop="64 mohm", fitted="50 A")
    assert found.sentence == "a short through an arc draws 98.3 A, 1.97 times its rating: it trips late"


@pytest.mark.parametrize(
    ("size", "metal", "kind", "verdict", "bears_s"),
    [
        ("8 AWG", "57", "breaker", "pass", 1.95),
        ("10 AWG", "57", "breaker", "pass", 0.77),
        ("12 AWG", "70", "breaker", "marginal", 0.26),
        ("14 AWG", "70", "breaker", "fail", 0.104),
        ("14 AWG", "70", "fuse", "pass", 0.104),
    ],
)
def test_a_wire_bears_the_short_until_it_is_cleared(size, metal, kind, verdict, bears_s) -> None:
    """By hand: (k S / 745 A)^2, IEC 60949's k of 115 (70 degC) and 124 (57). A 60 A breaker clears it in (360/745)^2 x
    1 to 5 s = 0.23 to 1.2 s, half way by ratio 0.52 s, a fuse in a fiftieth (from memory)."""
    found = short(fitted="60 A", size=size, metal=metal, kind=kind)
    assert found.values["withstand_s"] == pytest.approx(bears_s, rel=0.02)
    assert found.verdict == verdict


@pytest.mark.parametrize(("limit", "verdict"), [("250 A", "pass"), ("249 A", "marginal")])
def test_electronics_that_let_go_before_the_breaker_are_marginal(limit: str, verdict: str) -> None:
    assert short(fitted="50 A", electronics=limit).verdict == verdict


def test_without_a_breaker_named_only_the_current_is_given() -> None:
    found = short()
    assert found.verdict is Verdict.MISSING
    assert found.values["current_a"] == pytest.approx(745, abs=0.5)


def test_a_bank_that_gives_more_than_is_interrupted_fails() -> None:
    assert short(fitted="50 A", interrupting="1500 A").verdict is Verdict.FAIL


def test_an_estimate_never_proves_interrupting_capacity() -> None:
    found = short(fitted="50 A", interrupting="3000 A")
    assert found.conditions == ("an inner resistance from cranking amps says if it trips, not what it must interrupt",)
