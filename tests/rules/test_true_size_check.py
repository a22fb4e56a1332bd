"""The true size of a wire by its strands."""

import pytest

from engine.finding import Verdict
from engine.rules.check import Accuracy
from tests.rules.judging import judged, measured


def test_the_counted_wire_of_the_bow_is_six_gauge() -> None:
    """133 x 0.361 mm: 13.6 mm2, 102 % of 6 AWG; worked by hand."""
    found = judged("true-size", strands="133", strand_diameter="0.361 mm", marked="6 AWG")
    assert found.verdict is Verdict.PASS
    assert found.values["area_mm2"] == pytest.approx(13.6, abs=0.05)
    assert found.values["ratio"] == pytest.approx(1.02, abs=0.005)


@pytest.mark.parametrize(
    ("diameter", "verdict"),
    [("0.361", "pass"), ("0.347", "marginal"), ("0.338", "marginal"), ("0.329", "undecided"), ("0.300", "fail")],
)
def test_bands_of_the_share_with_a_micrometers_error_at_their_edges(diameter: str, verdict: str) -> None:
    """95 and 85 % of the marked area are this project's rule; U of the ratio is about 2.6 %."""
    assert judged("true-size", strands="133", strand_diameter=diameter, marked="6 AWG").verdict == verdict


def test_one_strand_in_a_caliper_can_not_tell() -> None:
    """0.03 mm of 0.361 mm is 8 % of the diameter and 17 % of the area."""
    found = judged("true-size", strands="133", strand_diameter="0.361", marked="6 AWG", how="caliper")
    assert found.verdict is Verdict.UNDECIDED
    assert "the drop under load decides" in found.remedy


def test_ten_strands_side_by_side_in_a_caliper_can() -> None:
    found = judged("true-size", strands="133", strand_diameter="0.361", marked="6 AWG", how="ten-across")
    assert found.verdict is Verdict.PASS


def test_automotive_wire_is_suspected_where_the_share_says_so() -> None:
    """SAE 8 of 7.5 mm2 in 19 strands of 0.71 mm against 8 AWG: 90 %."""
    found = judged("true-size", strands="19", strand_diameter="0.71", marked="8 AWG")
    assert found.verdict is Verdict.MARGINAL
    assert "it may be SAE wire" in found.remedy


@pytest.mark.parametrize(
    ("strands", "diameter", "verdict"),
    [("133", "0.40", "pass"), ("166", "0.40", "undecided"), ("20000", "20", "undecided")],
)
def test_more_copper_than_the_next_size_is_a_wrong_count(strands: str, diameter: str, verdict: str) -> None:
    """ASTM B258: the next gauge has 1.26 times the area. 133 x 0.40 mm are 126 %, 166 157 %, the last 47 million."""
    assert judged("true-size", strands=strands, strand_diameter=diameter, marked="6 AWG").verdict == verdict


def test_copper_clad_aluminium_fails_at_any_size_and_is_named_where_nobody_looked() -> None:
    """33 CFR 183.425(a): stranded copper. Geometry cannot tell; a strand cut across can."""
    typed = {"strands": "133", "strand_diameter": "0.361", "marked": "6 AWG"}
    assert judged("true-size", **typed, conductor="copper-clad").verdict is Verdict.FAIL
    assert any("copper-clad" in said for said in judged("true-size", **typed).conditions)
    assert not any("copper-clad" in said for said in judged("true-size", **typed, conductor="tinned").conditions)


def test_an_instruments_own_accuracy_counts() -> None:
    coarse = {"strand_diameter": Accuracy(10, 0, 0.0)}
    found = measured("true-size", coarse, strands="133", strand_diameter="0.361", marked="6 AWG")
    assert found.verdict is Verdict.UNDECIDED


def test_inches_and_millimetres_give_the_same_finding() -> None:
    inch, metric = (
        judged("true-size", strands="133", strand_diameter=d, marked="6 AWG") for d in ("0.0142 in", "0.36068 mm")
    )
    assert (inch.verdict, inch.sentence) == (metric.verdict, metric.sentence)
