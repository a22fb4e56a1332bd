"""The hole, the flange, the nut, and the room behind the panel."""

import pytest

from engine.finding import Verdict
from engine.rules.check import Accuracy
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged, measured

EXACT = {
    name: Accuracy(0, 0, 0)
    for name in ("largest", "smallest", "body", "flange", "nut", "screw_edge", "panel", "thread", "seal", "depth")
}
HOLE = {"largest": "62", "smallest": "60", "body": "58", "flange": "76"}
PANEL = {"panel": "6", "thread": "22", "nut": "10", "seal": "2", "depth": "120", "body": "70", "cable": "7"}


@pytest.mark.parametrize(
    ("flange", "verdict"), [("72", "pass"), ("71.9", "marginal"), ("69", "marginal"), ("68.9", "fail"), ("65", "fail")]
)
def test_bands_of_the_overlap_with_the_body_pushed_aside(flange: str, verdict: str) -> None:
    # Source: this project's rule, 3 and 1.5 mm: (72 + 58) / 2 - 62 = 3; (69 + 58) / 2 - 62 = 1.5.
    assert measured("hole", EXACT, **(HOLE | {"flange": flange})).verdict == verdict


def test_nut_must_bear_as_well() -> None:
    # Source: this project's rule: (68 + 58) / 2 - 62 = 1 mm.
    found = measured("hole", EXACT, nut="68", **HOLE)
    assert (found.verdict, found.values["nut_overlap_mm"]) == (Verdict.FAIL, pytest.approx(1))


def test_hole_that_shows_beside_the_flange_says_by_how_much() -> None:
    # Source: worked by hand: (62 + 58) / 2 - 62 = -2 mm.
    found = measured("hole", EXACT, **(HOLE | {"flange": "62"}))
    assert found.sentence == "the hole shows beside the flange by 2 mm"


@pytest.mark.parametrize(("smallest", "verdict"), [("58", "pass"), ("57.9", "fail")])
def test_body_must_enter(smallest: str, verdict: str) -> None:
    # Source: geometry, perfect caliper.
    assert measured("hole", EXACT, **(HOLE | {"smallest": smallest})).verdict == verdict


@pytest.mark.parametrize(("enters", "verdict"), [("yes", "pass"), ("no", "fail")])
def test_hand_decides_whether_the_body_enters_freely(enters: str, verdict: str) -> None:
    # Source: this project's rule: "body enters freely by hand" wins over the caliper.
    assert judged("hole", enters=enters, **(HOLE | {"smallest": "58.02"})).verdict == verdict


def test_caliper_that_cannot_tell_asks_to_try_it() -> None:
    # Source: JCGM 106:2012, 8.3: U = 0.049 mm of two caliper readings.
    found = judged("hole", **(HOLE | {"smallest": "58.02"}))
    assert (found.verdict, found.remedy) == (Verdict.UNDECIDED, "try it: the body must enter freely by hand")


def test_screw_too_near_the_edge() -> None:
    # Source: common practice (quoted): 1.5 diameters, 4 mm screw: 6 mm.
    assert judged("hole", screw="4", screw_edge="5", **HOLE).verdict is Verdict.FAIL


def test_largest_and_smallest_swapped_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^smallest is 60 mm; it must be at most largest, 58 mm$"):
        judged("hole", **(HOLE | {"largest": "58"}))


def test_hole_is_the_same_in_inches() -> None:
    # Source: 1 in = 25.4 mm by definition.
    inches = {name: f"{float(text) / 25.4:.9f} in" for name, text in HOLE.items()}
    assert judged("hole", **inches).sentence == judged("hole", **HOLE).sentence


@pytest.mark.parametrize(("panel", "verdict"), [("8", "pass"), ("8.1", "fail")])
def test_one_turn_shows_past_the_nut(panel: str, verdict: str) -> None:
    # Source: this project's rule: 22 - 8 - 2 - 10 - 2 = 0 mm to spare.
    assert measured("panel-fit", EXACT, **(PANEL | {"panel": panel})).verdict == verdict


@pytest.mark.parametrize(("bezel", "verdict", "fastening"), [("yes", "pass", "bezel"), ("no", "fail", "none")])
def test_thick_panel_takes_the_bezel(bezel: str, verdict: str, fastening: str) -> None:
    # Source: this project's rule.
    found = judged("panel-fit", bezel=bezel, **(PANEL | {"panel": "12"}))
    assert (found.verdict, found.values["fastening"]) == (verdict, fastening)


def test_thin_panel_takes_the_nut_even_with_a_bezel_at_hand() -> None:
    # Source: this project's rule: the nut clamps without screw holes near the edge.
    assert judged("panel-fit", bezel="yes", **PANEL).values["fastening"] == "nut"


@pytest.mark.parametrize(("depth", "verdict"), [("105", "pass"), ("104.9", "fail")])
def test_cable_needs_five_diameters_behind(depth: str, verdict: str) -> None:
    # Source: this project's rule: 70 + 5 x 7 = 105 mm.
    assert measured("panel-fit", EXACT, **(PANEL | {"depth": depth})).verdict == verdict


def test_fail_names_the_dimension() -> None:
    found = measured("panel-fit", EXACT, **(PANEL | {"panel": "12"}))
    assert found.sentence == "thread is 4 mm too short for panel, seal and nut"


def test_gasket_that_was_not_measured_is_assumed_and_said() -> None:
    found = judged("panel-fit", **{name: text for name, text in PANEL.items() if name != "seal"})
    assert found.assumed >= {"seal", "pitch"}
