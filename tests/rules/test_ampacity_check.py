"""The ampacity check: factors by profile, long runs, thin wire."""

import pytest

from engine.finding import Verdict
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("typed", "allowable"),
    [
        ({}, 80),
        ({"insulation": "75"}, 65),
        ({"engine_space": "yes"}, 68),
        ({"bundled": "3"}, 56),
        ({"bundled": "6", "engine_space": "yes"}, 40.8),
        ({"ambient": "50"}, 68.5),
        ({"ambient": "50", "engine_space": "yes"}, 68),
        ({"ambient": "-10"}, 80),
    ],
)
def test_the_allowable_current_is_the_table_times_its_factors(typed: dict[str, str], allowable: float) -> None:
    """33 CFR 183.425 table 5, notes 1 and 2; 8 AWG, 105 degC unless said."""
    found = judged("ampacity", load="10 A", size="8 AWG", **typed)
    assert found.values["allowable_a"] == pytest.approx(allowable, abs=0.01)


@pytest.mark.parametrize(
    ("load", "continuous", "verdict"),
    [
        ("48", "yes", "pass"),
        ("64", "yes", "pass"),
        ("64.1", "yes", "marginal"),
        ("80", "no", "pass"),
        ("80.1", "no", "fail"),
    ],
)
def test_a_load_is_held_against_the_wire(load: str, continuous: str, verdict: str) -> None:
    """80 A by table 5; 80 % of it for loads that run for hours is common practice, no source."""
    assert judged("ampacity", load=load, size="8 AWG", continuous=continuous).verdict == verdict


def test_federal_has_no_bundle_factor_below_fifty_volts_and_says_so() -> None:
    """33 CFR 183.435(b)."""
    found = judged("ampacity", "federal", load="48", size="8 AWG", bundled="6")
    assert found.values["allowable_a"] == 80
    assert "this profile has no bundle factor below 50 V; industry practice applies it" in found.conditions


def test_federal_applies_the_bundle_factor_from_fifty_volts() -> None:
    assert judged("ampacity", "federal", load="48", size="8 AWG", bundled="6", nominal="50").values["allowable_a"] == 48


@pytest.mark.parametrize(("in_sheath", "verdict"), [("no", "fail"), ("yes", "pass")])
def test_eighteen_gauge_runs_only_inside_a_sheath(in_sheath: str, verdict: str) -> None:
    """33 CFR 183.425(d), (e): 18 AWG in a sheath, 16 AWG singly."""
    assert judged("ampacity", load="2", size="18 AWG", in_sheath=in_sheath).verdict == verdict


@pytest.mark.parametrize("size", ["16 AWG", "1 mm2", "SAE 16"])
def test_sixteen_gauge_may_run_singly(size: str) -> None:
    """33 CFR 183.425(e); 1 mm2 singly as ISO 10133 is quoted."""
    assert judged("ampacity", load="2", size=size, in_sheath="no").verdict is Verdict.PASS


def test_a_size_under_the_table_is_refused() -> None:
    with pytest.raises(OutOfRange, match="size is 20 AWG; it must be 18 AWG or larger"):
        judged("ampacity", load="1", size="20 AWG")


def test_the_default_insulation_is_marked_as_assumed() -> None:
    assert {"insulation", "engine_space", "bundled"} <= judged("ampacity", load="48", size="8 AWG").assumed


def test_the_sentence_names_load_and_limit() -> None:
    assert judged("ampacity", load="85", size="8 AWG").sentence == "85 A is over the 80 A this wire may carry"


@pytest.mark.parametrize(
    ("fuse", "profile", "verdict"),
    [
        ("7.5", "industry", "pass"),
        ("10", "industry", "marginal"),
        ("11.25", "industry", "marginal"),
        ("11.3", "industry", "fail"),
        ("20", "federal", "marginal"),
        ("22.5", "federal", "marginal"),
        ("23", "federal", "fail"),
    ],
)
def test_a_fuse_may_pass_what_its_wire_carries_only_up_to_the_ceiling(fuse: str, profile: str, verdict: str) -> None:
    """16 AWG of 60 degC carries 15 A by 33 CFR 183.425 table 5, half in a bundle of seven; 150 % by 183.455(c)."""
    found = judged(
        "ampacity", profile, load=fuse, size="16 AWG", insulation="60", bundled="7", nominal="12", fuse="yes"
    )
    assert found.verdict == verdict
    assert (found.remedy == "") == (verdict == "pass")


def test_from_fifty_volts_a_fuse_has_no_room_above_its_wire() -> None:
    """33 CFR 183.455(c): 150 % only below 50 V."""
    found = judged("ampacity", load="10", size="16 AWG", insulation="60", bundled="7", nominal="60", fuse="yes")
    assert found.verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("size", "rules", "verdict"),
    [
        ("1 mm2", "industry", "pass"),
        ("1 mm2", "federal", "fail"),
        ("1.5 mm2", "federal", "pass"),
        ("16 AWG", "federal", "pass"),
        ("SAE 16", "federal", "pass"),
        ("18 AWG", "industry", "fail"),
    ],
)
def test_smallest_wire_that_runs_singly_differs_by_profile(size: str, rules: str, verdict: str) -> None:
    """33 CFR 183.425(e): No. 16, 1.31 mm2; ISO 10133 begins at 1 mm2 (memory)."""
    assert judged("ampacity", rules, load="2 A", size=size, in_sheath="no").verdict == verdict


def test_copper_clad_aluminium_is_no_stranded_copper() -> None:
    """33 CFR 183.425(a)."""
    assert judged("ampacity", load="2 A", size="8 AWG", conductor="copper-clad").verdict is Verdict.FAIL


def test_nothing_is_left_in_air_as_hot_as_the_jacket_may_be() -> None:
    """A wire of 60 degC insulation in 60 degC air has no degree left for its own heat."""
    assert judged("ampacity", load="1 A", size="8 AWG", insulation="60", ambient="60 C").verdict is Verdict.FAIL
