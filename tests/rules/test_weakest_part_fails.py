"""A load on a part that is too small for it."""

import pytest

from engine.finding import Verdict
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged


def test_a_motor_of_56_a_on_a_receptacle_of_20_a_makes_784_percent_of_its_heat() -> None:
    """Common practice, no source; (56 / 20)^2 by Joule's law."""
    found = judged("weakest-part", load="56 A", ratings="20 A")
    assert found.verdict is Verdict.FAIL
    assert found.values["heat_ratio"] == pytest.approx(7.84)


def test_the_lowest_of_several_named_parts_is_the_one() -> None:
    found = judged("weakest-part", load="48 A", ratings="receptacle 30 A; plug 60 A; switch=70 A")
    assert found.sentence == "receptacle: 48 A on 30 A, 2.56 times its rated heat"
    assert found.remedy == "receptacle: fit one rated 60 A or more"


def test_no_rating_at_all_is_asked_for() -> None:
    assert judged("weakest-part", load="48 A").verdict is Verdict.MISSING


def test_an_empty_list_is_refused() -> None:
    from engine.published.profiles import profile
    from engine.rules.check import Context
    from engine.rules.registry import run

    with pytest.raises(OutOfRange, match="ratings is empty"):
        run("weakest-part", {"load": 48.0, "ratings": ()}, Context(profile()))
