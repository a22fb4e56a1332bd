"""The drop of a run under load against its prediction."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.registry import run
from tests.rules.judging import judged, measured

EXACT = {name: Accuracy(0, 0, 0) for name in ("source", "at_load", "current", "legs")}
RUN = {"current": "48 A", "rated": "48 A", "predicted": "20 mohm", "wire_temperature": "29.3 C"}


def at_48(drop_v: float, **typed: str):
    return measured(
        "measured-drop", EXACT, source="25", at_load=f"{25 - drop_v:.4f}", same_meter="yes", **(RUN | typed)
    )


@pytest.mark.parametrize(
    ("drop_v", "verdict"), [(1.06, "pass"), (1.0601, "marginal"), (1.16, "marginal"), (1.1601, "fail"), (0.96, "pass")]
)
def test_bands_of_the_excess(drop_v: float, verdict: str) -> None:
    # Source: this project's rule: 0.10 and 0.20 V over 48 A x 20 mohm = 0.96 V, perfect meters.
    assert at_48(drop_v).verdict == verdict


def test_good_limit_holds_the_uncertainty() -> None:
    # Source: this project's rule: 0.10 V + U. One usual meter: excess 0.14 V, U about 0.05 V.
    found = judged("measured-drop", source="25", at_load="23.9", same_meter="yes", **RUN)
    assert found.verdict is Verdict.PASS
    assert found.limits[0].value == pytest.approx(0.10 + found.uncertainty)


def test_two_meters_cannot_tell() -> None:
    # Source: JCGM 100:2008, 5.1.2: two meters at 25 V have U = 0.24 V, over the whole band.
    found = judged("measured-drop", source="25", at_load="23.95", **RUN)
    assert (found.verdict, found.uncertainty > 0.2) == (Verdict.UNDECIDED, True)


def test_two_meters_undecided_say_what_would_settle_it() -> None:
    found = judged("measured-drop", source="25", at_load="23.95", **RUN)
    assert "one meter" in found.remedy
    assert "long lead" in found.remedy


def test_two_meters_still_show_a_gross_fault() -> None:
    # Source: JCGM 106:2012, 8.3: excess 1.04 V is further past 0.20 V than U.
    assert judged("measured-drop", source="25", at_load="23", **RUN).verdict is Verdict.FAIL


def test_offset_at_no_load_makes_two_meters_one() -> None:
    # Source: this project's rule: both on the bank at no load, subtract.
    found = judged("measured-drop", source="25.05", at_load="23.95", offset="0.05", **RUN)
    assert (found.verdict, found.values["drop_v"]) == (Verdict.PASS, pytest.approx(1.05))


def test_legs_in_millivolts_are_the_surest() -> None:
    # Source: JCGM 100:2008: direct drops have U about 0.04 V of the current alone, two volts 0.05 V.
    legs = judged("measured-drop", legs="520 mV; 530 mV", **RUN)
    volts = judged("measured-drop", source="25", at_load="23.95", same_meter="yes", **RUN)
    assert legs.values["drop_v"] == pytest.approx(1.05)
    assert legs.uncertainty < volts.uncertainty


@pytest.mark.parametrize(("current", "verdict"), [("19.2 A", "pass"), ("19.1 A", "undecided")])
def test_under_four_tenths_of_rated_nothing_is_said(current: str, verdict: str) -> None:
    # Source: this project's rule, as thermography practice: 0.4 x 48 = 19.2 A.
    typed = RUN | {"current": current}
    assert measured("measured-drop", EXACT, source="25", at_load="24.616", same_meter="yes", **typed).verdict == verdict


def test_parts_join_the_prediction() -> None:
    # Source: this project's rule: breaker, plug and lugs of 3 to 5 mohm (memory) belong to what is due.
    assert at_48(1.25).verdict is Verdict.FAIL
    assert at_48(1.25, parts="4 mohm").verdict is Verdict.PASS


def test_ratio_is_shown_and_not_judged() -> None:
    # Source: this project's rule: a ratio of 1.8 on a short thick run of 2 mohm is 0.08 V.
    found = measured(
        "measured-drop", EXACT, source="25", at_load="24.825", same_meter="yes", **(RUN | {"predicted": "2 mohm"})
    )
    assert (found.verdict, found.values["ratio"] > 1.5) == (Verdict.PASS, True)


def test_less_than_the_wire_alone_can_lose_is_a_wrong_reading() -> None:
    # Source: Ohm's law: 0.5 V where 0.96 V are due.
    assert at_48(0.5).verdict is Verdict.UNDECIDED


def test_swapped_readings_are_noticed() -> None:
    found = judged("measured-drop", source="23.9", at_load="25", same_meter="yes", **RUN)
    assert found.sentence == "the load reads more than the source: readings swapped?"


def test_no_volts_at_all_are_missing() -> None:
    assert judged("measured-drop", **RUN).verdict is Verdict.MISSING


def test_percentage_is_of_nominal_at_rated_current() -> None:
    # Source: worked by hand: 1.06 V of 24 V is 4.42 %.
    assert at_48(1.06, nominal="24 V").values["drop_percent"] == pytest.approx(4.4167, rel=1e-4)


@given(st.floats(0.4, 1.0), st.floats(0.5, 3))
def test_excess_does_not_depend_on_the_current_of_the_test(share: float, times: float) -> None:
    # Source: Ohm's law: a resistance is the same at any current.
    amperes = 48 * share
    values = {
        "legs": (amperes * 0.02 * times,),
        "current": amperes,
        "rated": 48.0,
        "predicted": 0.02,
        "wire_temperature": 29.3,
    }
    found = run("measured-drop", values, Context(profile(), EXACT))
    assert found.values["excess_v"] == pytest.approx(0.96 * (times - 1), abs=1e-9)


def test_warm_wire_is_due_more_and_is_no_joint() -> None:
    # Source: IEC 60028: copper at 57 degC has 1.1050 times its resistance at 29.3 degC. 1.06 V of drop is then its own.
    found = at_48(1.0608, wire_temperature="57 C")
    assert found.values["excess_v"] == pytest.approx(0, abs=0.001)  # the factor is worked to four digits


def test_sound_warm_tinned_wire_is_no_bad_joint() -> None:
    # Worked by hand: 8 AWG tinned, 10.4 m at 57 degC: 22.21 mohm x 1.06 x 1.105 = 26.0 mohm, and 4 mohm of parts:
    # 1.44 V at 48 A. The plan knows plain copper at 29.3 degC, 22.21 mohm, and that the load brings it to 57 degC.
    typed = {"current": "48", "rated": "48", "predicted": "22.21 mohm", "parts": "4 mohm", "same_meter": "yes"}
    assert judged("measured-drop", source="25.00", at_load="23.56", **typed, wire_hot="57 C").verdict is Verdict.PASS
    assert judged("measured-drop", source="25.00", at_load="23.56", **typed).verdict is Verdict.PASS


def test_bad_joint_shows_though_the_wire_may_be_warm() -> None:
    # Worked by hand: as above, the wire cold and plain (1.07 V) with a joint of 0.45 V.
    typed = {"current": "48", "rated": "48", "predicted": "22.21 mohm", "same_meter": "yes", "wire_hot": "57 C"}
    assert judged("measured-drop", source="25.00", at_load="23.48", **typed).verdict is Verdict.FAIL


def test_sentence_says_what_was_lost_and_what_is_allowed() -> None:
    # Worked by hand: 0.81 V of 24 V is 3.375 %; 48 A x 16 mohm = 0.768 V are due.
    found = at_48(0.81, predicted="16 mohm", nominal="24 V")
    assert found.sentence == "0.81 V lost at full load = 3.37 %; beyond what is due 0.042 V, allowed 0.1"


def test_a_gross_fault_shows_at_any_current() -> None:
    # Worked by hand: 4.5 V lost at 12 of 48 A; were it 19.2 A it would still be 234 mohm where 20 are due.
    found = judged("measured-drop", source="25", at_load="20.5", same_meter="yes", **(RUN | {"current": "12 A"}))
    assert found.verdict is Verdict.FAIL
