"""Where a step has the same check several times, a finding that is not a pass says which reading it is about."""

from engine.finding import Finding, Verdict
from engine.procedure.load import load
from engine.session.state import State
from engine.shipped import find
from engine.view.verdicts import step_verdicts


def told(**verdicts: Verdict) -> dict[str, str]:
    step = load(find("bow-receptacle")).step_by_id["load-test"]
    findings = {key.replace("_", " "): Finding("joint", verdict, "the joint") for key, verdict in verdicts.items()}
    return {view.key: view.sentence for view in step_verdicts(State(), step, findings)}


def test_the_second_joint_is_named_where_it_fails() -> None:
    assert told(joint=Verdict.PASS, joint_2=Verdict.FAIL) == {
        "joint": "the joint",
        "joint 2": "Across the joint of position 2: the joint",
    }


def test_a_check_that_stands_alone_keeps_its_sentence() -> None:
    assert told(measured_drop=Verdict.FAIL)["measured drop"] == "the joint"
