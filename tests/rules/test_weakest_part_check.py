"""A load on the lowest rating in series: its share, its heat, what it holds in warm air."""

import pytest

from engine.finding import Verdict
from engine.published.profiles import profile
from engine.rules.check import Context
from engine.rules.registry import run
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("load", "rating", "verdict"),
    [
        ("48", "60", "pass"),
        ("56", "70", "pass"),
        ("48", "59.9", "marginal"),
        ("60", "60", "marginal"),
        ("61", "60", "fail"),
    ],
)
def test_a_plug_contact_that_may_run_for_hours_carries_four_fifths(load: str, rating: str, verdict: str) -> None:
    """0.8 of the rating for hours, as for fuse and wire; common practice, no source. 48 / 60 = 56 / 70 = 0.80."""
    assert judged("weakest-part", load=load, ratings=rating).verdict == verdict


def test_a_switch_or_a_short_run_may_take_the_whole_rating() -> None:
    assert judged("weakest-part", load="60 A", ratings="60 A", continuous="no").verdict is Verdict.PASS


def test_a_motor_of_56_a_on_a_receptacle_of_20_a_makes_784_percent_of_its_heat() -> None:
    """Common practice, no source; (56 / 20)^2 by Joule's law."""
    found = judged("weakest-part", load="56 A", ratings="20 A")
    assert found.verdict is Verdict.FAIL
    assert found.values["heat_ratio"] == pytest.approx(7.84)


def test_the_lowest_of_several_named_parts_is_the_one() -> None:
    found = judged("weakest-part", load="48 A", ratings="receptacle 30 A; plug 60 A; switch=70 A")
    assert found.sentence == "receptacle: 48 A on 30 A, 2.56 times its rated heat"
    assert found.remedy == "receptacle: fit one rated 60 A or more"


def test_the_lowest_part_is_named_when_all_pass() -> None:
    found = judged("weakest-part", load="48 A", ratings="switch 70 A; receptacle 60 A")
    assert found.sentence == "receptacle: 48 A on 60 A is 80 % of its rating"


@pytest.mark.parametrize(
    ("air", "verdict"), [({"ambient": "40"}, "pass"), ({"engine_space": "yes"}, "pass"), ({"ambient": "65"}, "fail")]
)
def test_warm_air_leaves_a_contact_less(air: dict[str, str], verdict: str) -> None:
    """ANSI/IEEE C37.20.1 as quoted, by hand: 60 A x sqrt(55/65) = 55.2 A at 50 degC, x sqrt(40/65) = 47.1 A at 65."""
    assert judged("weakest-part", load="48 A", ratings="60 A", **air).verdict == verdict


def test_no_rating_at_all_is_asked_for() -> None:
    assert judged("weakest-part", load="48 A").verdict is Verdict.MISSING


def test_an_empty_list_is_refused() -> None:
    with pytest.raises(OutOfRange, match="ratings is empty"):
        run("weakest-part", {"load": 48.0, "ratings": ()}, Context(profile()))
