"""The volts that reach the load, the bank sagging."""

import pytest

from engine.finding import Finding, Verdict
from tests.rules.judging import judged


def reaching(**typed: str) -> Finding:
    run = {"load": "48 A", "internal": "13.625 mohm", "loop": "14.64 mohm", "parts": "4 mohm"}
    return judged("volts-at-load", **{"half_charged": "24.48 V", "full": "25.3 V", "least_volts": "21 V"} | run | typed)


def test_the_volts_are_those_worked_by_hand() -> None:
    """24.48 V - 48 A x (13.625 + 14.64 + 4) mohm = 24.48 - 1.549 = 22.93 V; the bank alone loses 0.654 V."""
    found = reaching()
    assert found.values["volts_v"] == pytest.approx(22.931, abs=0.001)
    assert found.values["sag_v"] == pytest.approx(0.654, abs=0.001)


@pytest.mark.parametrize(("least", "verdict"), [("22.9 V", "pass"), ("23 V", "marginal"), ("24 V", "fail")])
def test_half_a_charge_must_do(least: str, verdict: str) -> None:
    """Full it is 25.3 - 1.549 = 23.75 V; this project's rule."""
    assert reaching(least_volts=least).verdict == verdict


def test_a_small_12_volt_bank_falls_under_a_usual_cut_out() -> None:
    """12.24 V - 48 A x (6.8 + 22.3 + 4) mohm = 10.65 V, under 11 V; from full 12.65 V it is 11.06 V."""
    run = {"internal": "6.8125 mohm", "loop": "22.3 mohm", "half_charged": "12.24 V", "full": "12.65 V"}
    found = reaching(**run, least_volts="11 V")
    assert found.verdict is Verdict.MARGINAL
    assert found.values["volts_v"] == pytest.approx(10.65, abs=0.01)


def test_a_bank_whose_resistance_is_not_known_is_missing() -> None:
    assert (
        judged("volts-at-load", load="48", least_volts="21", half_charged="24", full="25", loop="0").verdict
        == "missing"
    )
