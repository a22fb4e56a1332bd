"""A load on parts that can carry it."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged


def test_a_motor_of_56_a_on_a_receptacle_of_70_a_takes_four_fifths_of_it() -> None:
    """Common practice, no source; 56 / 70 = 0.80."""
    found = judged("weakest-part", load="56 A", ratings="70 A")
    assert found.verdict is Verdict.PASS
    assert found.values["loading"] == pytest.approx(0.80)


@pytest.mark.parametrize(
    ("load", "continuous", "verdict"),
    [("48 A", "yes", "pass"), ("48.1 A", "yes", "marginal"), ("60 A", "yes", "marginal"), ("60 A", "no", "pass")],
)
def test_a_part_takes_four_fifths_of_its_rating_for_hours(load: str, continuous: str, verdict: str) -> None:
    """Common practice, as for wires and fuses: 0.8 x 60 A = 48 A; a plug contact is the hottest part of the run."""
    assert judged("weakest-part", load=load, ratings="60 A", continuous=continuous).verdict == verdict


def test_the_lowest_part_is_named_when_all_pass() -> None:
    found = judged("weakest-part", load="48 A", ratings="switch 70 A; receptacle 60 A")
    assert found.sentence == "receptacle: 48 A on 60 A is 80 % of its rating"
