"""Rings on a stud, splices, and the wire that a cut leaves."""

import pytest

from engine.finding import Finding
from tests.rules.judging import judged


def stud(**typed: str) -> Finding:
    return judged("stud", **{"rings": "3", "hole": "8.4 mm", "stud": "8.0 mm"} | typed)


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ({}, "pass"),
        ({"rings": "4"}, "pass"),
        ({"rings": "5"}, "fail"),
        ({"hole": "8.9 mm"}, "pass"),
        ({"hole": "9.3 mm"}, "undecided"),
        ({"hole": "9.4 mm"}, "fail"),
        ({"hole": "10.1 mm"}, "fail"),
        ({"stamped": "yes", "hole": "10.1 mm"}, "fail"),
        ({"hole": "7.8 mm"}, "fail"),
        ({"largest_lowest": "no"}, "fail"),
        ({"rings": "1", "largest_lowest": "no"}, "pass"),
        ({"washer_between": "yes"}, "fail"),
    ],
)
def test_rings_on_a_stud(typed: dict[str, str], verdict: str) -> None:
    """At most four rings: ABYC E-11 as quoted. 1.3 mm of play on 8 mm is this project's rule; U = 0.05 mm."""
    assert stud(**typed).verdict == verdict


@pytest.mark.parametrize(
    ("hole", "on", "verdict"),
    [
        ("5.5", "4.9", "pass"),
        ("6.6", "5.9", "pass"),
        ("9.0", "7.9", "pass"),
        ("11.0", "9.9", "pass"),
        ("13.5", "11.9", "pass"),
        ("8.7", "7.8", "pass"),
        ("10.3", "9.4", "pass"),
        ("13.0", "11.8", "pass"),
        ("6.6", "4.9", "fail"),
        ("9.0", "5.9", "fail"),
        ("11.0", "7.9", "fail"),
        ("13.5", "9.9", "fail"),
        ("10.3", "7.8", "fail"),
    ],
)
def test_ordinary_rings_fit_their_stud_and_not_the_next(hole: str, on: str, verdict: str) -> None:
    """ISO 273, medium holes for M5 to M12 on studs a tenth under their name; 5/16, 3/8 in lugs; the next stud."""
    assert stud(hole=f"{hole} mm", stud=f"{on} mm").verdict == verdict


def test_a_stamp_stands_for_the_calliper_and_nothing_at_all_is_missing() -> None:
    assert judged("stud", rings="1", stamped="yes").verdict == "pass"
    assert judged("stud", rings="1", stamped="no").verdict == "missing"
    assert judged("stud", rings="1").verdict == "missing"


def spliced(**typed: str) -> Finding:
    return judged("splice", **{"sealed": "yes", "to_splice": "50 mm", "to_end": "400 mm"} | typed)


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ({}, "pass"),
        ({"method": "twist-on"}, "fail"),
        ({"method": "solder only"}, "fail"),
        ({"sealed": "no"}, "marginal"),
        ({"splices": "2"}, "marginal"),
        ({"to_splice": "20 mm"}, "marginal"),
        ({"to_splice": "30 mm"}, "marginal"),
        ({"to_end": "200 mm"}, "marginal"),
        ({"to_end": "302 mm"}, "marginal"),
        ({"to_end": "12.2 in"}, "pass"),
    ],
)
def test_a_splice_is_crimped_sealed_and_clear_of_others(typed: dict[str, str], verdict: str) -> None:
    """Common practice; 12 in from a terminal are FAA AC 43.13-1B from memory, so never more than marginal."""
    assert spliced(**typed).verdict == verdict


def test_distances_that_were_not_taken_are_left_aside() -> None:
    assert judged("splice", sealed="yes").verdict == "pass"


def left(**typed: str) -> Finding:
    return judged("wire-left", **{"free": "300 mm", "lose": "60 mm", "reach": "150 mm"} | typed)


@pytest.mark.parametrize(
    ("lose", "verdict", "sentence"),
    [
        ("60 mm", "pass", "240 mm left for a reach of 150 mm: enough for one more termination"),
        ("110 mm", "marginal", "190 mm left for a reach of 150 mm: it reaches, but there is no second try"),
        ("150 mm", "undecided", "150 mm left for a reach of 150 mm: too near for this tape to tell"),
        ("130 mm", "marginal", "170 mm left for a reach of 150 mm: it reaches, but there is no second try"),
        ("160 mm", "fail", "140 mm left for a reach of 150 mm: too short, do not cut"),
    ],
)
def test_the_cut_is_judged_before_it_is_made(lose: str, verdict: str, sentence: str) -> None:
    """40 mm for one more termination: common practice, no source; three tape readings, U = 2.5 mm."""
    found = left(lose=lose)
    assert (found.verdict, found.sentence) == (verdict, sentence)


def test_inches_and_millimetres_give_the_same_finding() -> None:
    inch, metric = left(free="12 in", lose="2 in"), left(free="304.8 mm", lose="50.8 mm")
    assert (inch.verdict, inch.sentence) == (metric.verdict, metric.sentence)
