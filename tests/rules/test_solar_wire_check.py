"""The wire of a solar panel. Source: NFPA 70 (NEC) 690.8(A)(1), (B)(1), (B)(2) as quoted; 33 CFR 183.425 table 5."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("isc", "verdict"),
    [("22.4", "pass"), ("22.5", "marginal"), ("35", "marginal"), ("35.1", "fail")],
)
def test_a_wire_is_held_against_its_table(isc: str, verdict: str) -> None:
    """14 AWG, 105 degC: 35 A by table 5; 35 / 1.5625 = 22.4 A, worked by hand."""
    assert judged("solar-wire", isc=isc, size="14 AWG").verdict == verdict


def test_the_current_to_design_for_is_that_of_the_solar_check() -> None:
    """8.6 A: 1.5625 x 8.6 = 13.4 A, worked by hand."""
    found = judged("solar-wire", isc="8.6", size="10 AWG")
    assert found.verdict is Verdict.PASS
    assert found.values["design_a"] == pytest.approx(13.4375)
    assert found.sentence == "wire for 13.4 A is wanted, 1.56 times the label; this one has 60 A"


def test_where_it_lies_it_must_carry_the_sun_once_more() -> None:
    """14 AWG, 6 in a bundle: 35 x 0.6 = 21 A. At 17 A the table is kept (26.6 of 35 A), 1.25 x 17 = 21.25 A is not."""
    found = judged("solar-wire", isc="17", size="14 AWG", bundled="6")
    assert (found.verdict, found.remedy) == (Verdict.MARGINAL, "use a larger wire")
    assert "strong sun" in found.sentence
    assert judged("solar-wire", isc="16.8", size="14 AWG", bundled="6").verdict is Verdict.PASS


def test_panels_side_by_side_add_up() -> None:
    two = judged("solar-wire", isc="8.6", strings="2", size="14 AWG")
    assert two.values["design_a"] == pytest.approx(26.875)
