"""A steady load on its fuse, and solar panels on their controller."""

import pytest

from engine.finding import Finding
from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("load", "verdict", "sentence"),
    [
        ("10", "pass", "10 A is 67 % of the 15 A fuse"),
        ("12", "pass", "12 A is 80 % of the 15 A fuse"),
        ("13", "marginal", "87 % of the 15 A fuse; 80 % is wise"),
        ("15", "marginal", "100 % of the 15 A fuse; 80 % is wise"),
        ("15.1", "fail", "15.1 A is over the 15 A fuse: it will blow"),
    ],
)
def test_a_steady_load_takes_at_most_four_fifths_of_its_fuse(load: str, verdict: str, sentence: str) -> None:
    """0.8 is common practice, no source."""
    found = judged("fuse-load", load=load, fuse="15 A")
    assert (found.verdict, found.sentence) == (verdict, sentence)


def panel(**typed: str) -> Finding:
    usual = {"isc": "8.6", "voc": "22.5", "coldest": "-10", "coefficient": "-0.305"}
    return judged("solar", **usual | {"controller_volts": "50", "controller_amps": "20"} | typed)


def test_the_caravans_panel_is_as_worked() -> None:
    """13.4 A to design for, 24.9 V cold; NFPA 70 690.8 as quoted."""
    values = panel().values
    assert (values["design_a"], values["cold_voc_v"]) == (pytest.approx(13.4375), pytest.approx(24.9, abs=0.005))


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ({}, "pass"),
        ({"controller_volts": "24"}, "fail"),
        ({"controller_amps": "8"}, "fail"),
        ({"controller_amps": "10"}, "marginal"),
        ({"strings": "3"}, "fail"),
        ({"allowable": "13"}, "fail"),
        ({"allowable": "60"}, "pass"),
    ],
)
def test_the_controller_and_the_wire_set_the_limits(typed: dict[str, str], verdict: str) -> None:
    assert panel(**typed).verdict == verdict


def test_cold_volts_over_the_controller_are_said() -> None:
    assert panel(controller_volts="24").sentence == "24.9 V on a cold morning is over the controller's 24 V"
