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
        ("87.6 mohm", "marginal"),
        ("150 mohm", "marginal"),
        ("237 mohm", "undecided"),
        ("400 mohm", "fail"),
    ],
)
def test_a_long_thin_run_may_never_trip_its_breaker(loop: str, verdict: str) -> None:
    """Five times its rating trips, under twice may not; this project's rule."""
    assert short(loop=loop, fitted="50 A").verdict == verdict


def test_without_a_breaker_named_only_the_current_is_given() -> None:
    found = short()
    assert found.verdict is Verdict.MISSING
    assert found.values["current_a"] == pytest.approx(745, abs=0.5)


def test_a_bank_that_gives_more_than_is_interrupted_fails() -> None:
    assert short(fitted="50 A", interrupting="1500 A").verdict is Verdict.FAIL


def test_an_estimate_never_proves_interrupting_capacity() -> None:
    found = short(fitted="50 A", interrupting="3000 A")
    assert found.conditions == ("an inner resistance from cranking amps says if it trips, not what it must interrupt",)
