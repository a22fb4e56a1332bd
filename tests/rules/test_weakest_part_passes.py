"""A load on parts that can carry it."""

import pytest

from engine.finding import Verdict
from tests.rules.judging import judged


def test_a_motor_of_56_a_on_a_receptacle_of_70_a_takes_four_fifths_of_it() -> None:
    """Common practice, no source; 56 / 70 = 0.80."""
    found = judged("weakest-part", load="56 A", ratings="70 A")
    assert found.verdict is Verdict.PASS
    assert found.values["loading"] == pytest.approx(0.80)


def test_a_part_at_its_rating_passes() -> None:
    assert judged("weakest-part", load="60 A", ratings="60 A").verdict is Verdict.PASS


def test_the_lowest_part_is_named_when_all_pass() -> None:
    found = judged("weakest-part", load="48 A", ratings="switch 70 A; receptacle 60 A")
    assert found.sentence == "receptacle: 48 A on 60 A is 80 % of its rating"
