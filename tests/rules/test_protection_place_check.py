"""How far a fuse or breaker stands from its source, by profile."""

import pytest

from engine.finding import Finding, Verdict
from engine.rules.check import Accuracy
from tests.rules.judging import judged, measured


def placed(distance: str, profile: str = "industry", **typed: str) -> Finding:
    return judged("protection-place", profile, distance=distance, **typed)


@pytest.mark.parametrize(
    ("distance", "sheathed", "at_battery", "federal", "industry", "house"),
    [
        ("150 mm", "no", "no", "pass", "pass", "pass"),
        ("400 mm", "no", "no", "fail", "fail", "fail"),
        ("400 mm", "yes", "no", "pass", "pass", "pass"),
        ("400 mm", "no", "yes", "pass", "fail", "fail"),
        ("400 mm", "yes", "yes", "pass", "pass", "pass"),
        ("1.5 m", "yes", "no", "fail", "fail", "fail"),
        ("1.5 m", "yes", "yes", "pass", "pass", "fail"),
        ("1.5 m", "no", "yes", "pass", "fail", "fail"),
        ("2 m", "yes", "yes", "fail", "fail", "fail"),
    ],
)
def test_profiles_differ_where_their_sources_do(
    distance: str, sheathed: str, at_battery: str, federal: str, industry: str, house: str
) -> None:
    """7, 40 and 72 in: 33 CFR 183.455(b), 183.460(a); ABYC E-11 as quoted; the house's own 40."""
    found = {
        p: placed(distance, p, sheathed=sheathed, at_battery=at_battery).verdict
        for p in ("federal", "industry", "house")
    }
    assert found == {"federal": federal, "industry": industry, "house": house}


def test_the_profile_can_be_named_and_the_finding_says_which() -> None:
    found = placed("400 mm", sheathed="no", at_battery="yes", profile_="federal")
    assert (found.verdict, found.profile) == (Verdict.PASS, "federal 1")


def test_the_other_profiles_are_shown_beside() -> None:
    found = placed("400 mm", at_battery="yes")
    assert found.conditions == ("profile federal: pass, at most 1829 mm", "profile house: fail, at most 177.8 mm")


def test_a_cranking_feed_needs_none() -> None:
    """33 CFR 183.455(e), 183.460(a)."""
    assert placed("3 m", cranking="yes").verdict is Verdict.PASS


@pytest.mark.parametrize(("distance", "verdict"), [("176 mm", "pass"), ("178 mm", "undecided"), ("180 mm", "fail")])
def test_a_tape_can_not_tell_within_its_own_error(distance: str, verdict: str) -> None:
    """177.8 mm with a tape of 0.15 % + 1 mm: U = 1.5 mm. JCGM 106, guard band w = U."""
    assert placed(distance).verdict == verdict


def test_a_finer_rule_can() -> None:
    fine = {"distance": Accuracy(0, 1, 0.0001)}
    assert measured("protection-place", fine, distance="177.5 mm").verdict is Verdict.PASS


def test_inches_and_millimetres_give_the_same_finding() -> None:
    inches, metric = placed("15 in", sheathed="yes"), placed("381 mm", sheathed="yes")
    assert (inches.verdict, inches.sentence) == (metric.verdict, metric.sentence)


def test_a_sheath_is_the_remedy_where_it_would_do() -> None:
    assert placed("400 mm").remedy == "put the wire in a sheath all the way, or move it to within 176 mm of the source"
    assert placed("3 m").remedy == "move it to within 171 mm of the source"


def test_a_wire_in_a_sheath_is_not_told_to_go_into_one() -> None:
    """40 in, 1016 mm: 1015 mm is too near for a tape, and the wire is sheathed already."""
    found = placed("1015 mm", sheathed="yes")
    assert found.verdict is Verdict.UNDECIDED
    assert found.remedy == "move it to within 1013 mm of the source, or measure finer"
