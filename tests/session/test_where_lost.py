"""After the load test the engine says where the extra resistance is, and what to read next."""

from functools import cache
from pathlib import Path

import pytest
from jobs import Session

from engine.finding import Finding, Verdict
from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import PassTime, load_answers
from engine.session.where_lost import where_lost
from engine.shipped import find, folder

ANSWERS: Path = folder("sample_sessions") / "grey-heron-clean.answers.toml"


@cache
def work() -> Procedure:
    return load(find("bow-receptacle"))


def lost(**readings: str) -> Finding:
    session = Session(work())
    for action in load_answers(ANSWERS).actions:
        if isinstance(action, c.Finish) and action.step == "load-test":
            break
        if isinstance(action, c.Take) and action.entry in readings:
            action = c.Take(action.entry, readings[action.entry])
        if isinstance(action, PassTime):
            session.wait(seconds=action.seconds)
        elif isinstance(action, c.Take | c.Finish | c.NamePart):
            session.send(action)
    found = where_lost(work(), session.state, work().step_by_id["load-test"])
    assert found is not None
    return found


def test_a_sound_run_has_no_part_that_stands_out() -> None:
    assert lost().verdict is Verdict.PASS


def test_a_bad_joint_is_told_from_the_wire_by_its_millivolts() -> None:
    # Ohm's law, worked by hand: 200 mV / 46.8 A = 4.27 mohm, 0.5 due: 3.77 mohm x 48 A = 0.18 V
    found = lost(v_receptacle_load="23.36", mv_2="200")
    assert found.verdict is Verdict.MARGINAL
    assert found.values["parts"] == ("joint of position 2",)
    assert found.values["excess_v"] == pytest.approx(0.181, abs=0.002)


def test_loss_outside_the_measured_joints_asks_for_one_further_reading() -> None:
    found = lost(v_receptacle_load="22.9")
    assert "run to the bow, out" in found.sentence
    assert found.remedy.startswith("next: millivolts across ")
