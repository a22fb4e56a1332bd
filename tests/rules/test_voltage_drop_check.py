"""The voltage-drop check: bands by class and profile, and the same finding whatever unit was typed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.rules.registry import check
from engine.trade.conductor import area_mm2
from engine.trade.ranges import OutOfRange
from tests.rules.judging import judged

BOW = {"load": "48 A", "out": "5.2 m", "back": "5.2 m", "nominal": "24 V", "class_": "bow-motor"}


@pytest.mark.parametrize(
    ("size", "verdict", "sentence"),
    [
        ("10 AWG", "fail", "drop 7.07 % is over 5 %"),
        ("8 AWG", "marginal", "drop 4.44 % is over 3 %; allowed to 5 % with a reason"),
        ("6 AWG", "pass", "drop 2.79 %, hot 2.93 %, is within 3 %"),
        ("4 AWG", "pass", "drop 1.76 %, hot 1.81 %, is within 3 %"),
    ],
)
def test_the_bow_motor_is_judged_as_worked(size: str, verdict: str, sentence: str) -> None:
    """48 A, 24 V, 5.2 m each way; a motor maker's newer sheet has 3 %, its older 5 %, as quoted."""
    found = judged("voltage-drop", size=size, **BOW)
    assert (found.verdict, found.sentence) == (verdict, sentence)


def test_the_values_carry_the_names_and_figures_of_the_job() -> None:
    values = judged("voltage-drop", size="8 AWG", **BOW).values
    assert values["drop_v"] == pytest.approx(1.066, abs=0.0005)
    assert values["drop_percent"] == pytest.approx(4.44, abs=0.005)
    assert values["hot_drop_percent"] == pytest.approx(4.91, abs=0.005)


def test_only_the_hot_value_over_the_limit_is_marginal() -> None:
    """6 AWG at 5.5 m: 2.96 % cold, 3.10 % hot; worked by hand."""
    found = judged("voltage-drop", size="6 AWG", **BOW | {"out": "5.5 m", "back": "5.5 m"})
    assert found.verdict is Verdict.MARGINAL
    assert found.sentence == "drop 2.96 % cold, but 3.1 % hot is over 3 %"


@pytest.mark.parametrize(
    ("drop_class", "profile", "verdict"),
    [
        ("critical", "industry", "fail"),
        ("ordinary", "industry", "pass"),
        ("ordinary", "house", "pass"),
        ("bow-motor", "house", "fail"),
        ("critical", "federal", "fail"),
    ],
)
def test_the_class_and_the_profile_set_the_limit(drop_class: str, profile: str, verdict: str) -> None:
    """3 and 10 % of ABYC E-11 as quoted; the house's own 4 and 5 %."""
    typed = BOW | {"class_": drop_class}
    assert judged("voltage-drop", profile, size="8 AWG", **typed).verdict == verdict


def test_critical_is_the_class_if_none_is_named() -> None:
    typed = {key: text for key, text in BOW.items() if key != "class_"}
    found = judged("voltage-drop", size="8 AWG", **typed)
    assert found.inputs["class"] == "critical"
    assert "class" in found.assumed


def test_a_value_just_over_the_limit_is_printed_apart_from_it() -> None:
    found = judged(
        "voltage-drop", load="48", size="6 AWG", out="5.5825", back="5.5825", nominal="24", class_="critical"
    )
    assert found.verdict is Verdict.FAIL
    assert found.sentence.startswith("drop 3.0001 % is over 3 %")


def test_a_load_that_overheats_the_wire_has_no_hot_value() -> None:
    found = judged("voltage-drop", load="150 A", size="14 AWG", out="5 cm", back="5 cm", nominal="24 V")
    assert found.values["hot_drop_percent"] is None
    assert found.sentence == "drop 0.537 % cold, but this load overheats the wire: see ampacity"


def test_a_missing_length_is_asked_for() -> None:
    typed = {key: text for key, text in BOW.items() if key != "back"}
    found = judged("voltage-drop", size="8 AWG", **typed)
    assert (found.verdict, found.sentence) == (Verdict.MISSING, "not measured: wire from load back to source")


def test_a_length_outside_its_range_is_refused() -> None:
    with pytest.raises(OutOfRange, match="out is 250 m; it must be from 0 to 200 m"):
        judged("voltage-drop", size="8 AWG", **BOW | {"out": "250 m"})


def test_a_class_that_is_none_is_refused() -> None:
    with pytest.raises(OutOfRange, match='class is "navigation"; it must be one of critical, ordinary, bow-motor'):
        check("voltage-drop").inputs[5].refuse_outside("navigation")


def test_automotive_wire_says_that_its_area_is_from_memory() -> None:
    found = judged("voltage-drop", size="SAE 8", **BOW)
    assert any(source.unconfirmed and "SAE J1127" in source.document for source in found.sources)


def test_joints_in_the_run_are_counted() -> None:
    """4 mohm x 48 A = 0.192 V = 0.8 % of 24 V; worked by hand."""
    plain, more = (
        judged("voltage-drop", size="6 AWG", **BOW),
        judged("voltage-drop", size="6 AWG", extra="4 mohm", **BOW),
    )
    assert float(str(more.values["drop_percent"])) - float(str(plain.values["drop_percent"])) == pytest.approx(0.8)


@given(millimetres=st.integers(100, 30000))
@settings(max_examples=50, deadline=None)
def test_the_finding_is_the_same_in_millimetres_centimetres_and_metres(millimetres: int) -> None:
    texts = (f"{millimetres} mm", f"{millimetres / 10:.1f} cm", f"{millimetres / 1000:.3f} m")
    found = [judged("voltage-drop", size="8 AWG", **BOW | {"out": text, "back": text}) for text in texts]
    assert len({(f.verdict, f.sentence) for f in found}) == 1
    assert [f.values["drop_v"] for f in found] == pytest.approx([found[0].values["drop_v"]] * 3, rel=1e-12)


@given(inches=st.integers(12, 1000))
@settings(max_examples=50, deadline=None)
def test_the_finding_is_the_same_in_inches_and_millimetres(inches: int) -> None:
    texts = (f"{inches} in", f"{inches * 254 / 10:.1f} mm")
    found = [judged("voltage-drop", size="8 AWG", **BOW | {"out": text, "back": text}) for text in texts]
    assert (found[0].verdict, found[0].sentence) == (found[1].verdict, found[1].sentence)
    assert found[0].values["drop_v"] == pytest.approx(found[1].values["drop_v"], rel=1e-12)


@pytest.mark.parametrize("gauge", ["14 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "1/0 AWG"])
def test_a_gauge_and_its_own_square_millimetres_give_the_same_finding(gauge: str) -> None:
    """Typed to 0.001 mm2 and rounded up, so that the row of the table is the same: an area, not a metric size."""
    metric = f"{area_mm2(gauge) + 0.0005:.3f} mm2"
    ours, theirs = (judged("voltage-drop", size=size, **BOW | {"load": "12 A"}) for size in (gauge, metric))
    assert ours.verdict == theirs.verdict
    assert ours.values["hot_drop_percent"] == pytest.approx(theirs.values["hot_drop_percent"], rel=1e-3)


def test_the_sum_can_be_followed_by_hand() -> None:
    assert judged("voltage-drop", size="8 AWG", **BOW).working.splitlines() == [
        "V = I x (r(29.3 degC) x (out + back) + extra)",
        "= 48 A x (2.136 mohm/m x (5.2 m + 5.2 m) + 0 ohm) = 1.066 V",
        "100 x 1.066 V / 24 V = 4.44 %",
    ]


@pytest.mark.parametrize(("conductor", "percent"), [("plain", 3.34), ("tinned", 3.43)])
def test_metric_wire_is_taken_by_its_printed_resistance(conductor: str, percent: float) -> None:
    """Worked by hand, IEC 60228: 40 A x 8 m x 1.21 mohm/m x 1.0366 / 12 V = 3.34 %; tinned 3.43, by area 2.98."""
    found = judged(
        "voltage-drop", size="16 mm2", load="40 A", out="4 m", back="4 m", nominal="12 V", conductor=conductor
    )
    assert found.values["drop_percent"] == pytest.approx(percent, abs=0.01)
    assert "IEC 60228" in " ".join(found.conditions)


def test_tinned_wire_of_the_bow_is_no_longer_within_three_per_cent_hot() -> None:
    """Worked by hand: 6 AWG, 2.93 % hot of plain copper x 1.06 = 3.11 %; cold 2.79 x 1.06 = 2.96 %."""
    found = judged("voltage-drop", size="6 AWG", **BOW | {"conductor": "tinned"})
    assert found.values["drop_percent"] == pytest.approx(2.96, abs=0.01)
    assert found.values["hot_drop_percent"] == pytest.approx(3.11, abs=0.01)


def test_breaker_and_plug_are_told_beside_the_wire_and_not_held_against_its_limit() -> None:
    """By hand: 48 A x 4 mohm = 0.192 V = 0.8 % of 24 V on top of 2.93 % hot."""
    run = {"load": "48", "size": "6 AWG", "out": "5.2", "back": "5.2", "nominal": "24", "class": "bow-motor"}
    found = judged("voltage-drop", **run, parts="4 mohm")
    assert found.verdict is Verdict.PASS
    assert found.sentence == "drop 2.79 %, hot 2.93 %, is within 3 %; 3.73 % with the parts"
    assert found.values["whole_percent"] == pytest.approx(3.73, abs=0.005)
