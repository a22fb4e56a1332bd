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
        ({"hole": "8.9 mm"}, "fail"),
        ({"hole": "8.8 mm"}, "undecided"),
        ({"hole": "7.8 mm"}, "fail"),
        ({"largest_lowest": "no"}, "fail"),
        ({"rings": "1", "largest_lowest": "no"}, "pass"),
        ({"washer_between": "yes"}, "fail"),
    ],
)
def test_rings_on_a_stud(typed: dict[str, str], verdict: str) -> None:
    """At most four rings: ABYC E-11 as quoted. 0.8 mm of play is this project's rule; a caliper has U = 0.05 mm."""
    assert stud(**typed).verdict == verdict


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
        ({"to_splice": "30 mm"}, "undecided"),
        ({"to_end": "200 mm"}, "marginal"),
    ],
)
def test_a_splice_is_crimped_sealed_and_clear_of_others(typed: dict[str, str], verdict: str) -> None:
    """Common practice; the 300 mm from a terminal are FAA AC 43.13-1B from memory, so never more than marginal."""
    assert spliced(**typed).verdict == verdict


def test_distances_that_were_not_taken_are_left_aside() -> None:
    assert judged("splice", sealed="yes").verdict == "pass"


def left(**typed: str) -> Finding:
    return judged("wire-left", **{"free": "300 mm", "lose": "60 mm", "reach": "150 mm"} | typed)


@pytest.mark.parametrize(
    ("lose", "verdict", "sentence"),
    [
        ("60 mm", "pass", "240 mm left for a reach of 150 mm: enough for one more termination"),
        ("110 mm", "undecided", "190 mm left for a reach of 150 mm: too close to tell with this tape"),
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
