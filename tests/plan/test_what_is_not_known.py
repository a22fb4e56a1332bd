"""What is not known is missing, wherever it would be used; it is never nothing."""

import pytest

from engine.finding import Verdict
from engine.plan.circuit import Circuit, Part
from engine.plan.judged import judge_circuit, loop_ohm
from engine.plan.told import volts_along
from engine.procedure.model_circuit import PartKind
from tests.plan.bow import finding, planned


@pytest.mark.parametrize("way", ["run_out", "run_back", "new_wire"])
def test_a_run_that_is_not_known_is_missing_in_every_finding_that_rests_on_it(way: str) -> None:
    plan = planned(**{way: None, "wire_size": None})
    assert finding(plan, "run", "voltage-drop").verdict is Verdict.MISSING
    assert finding(plan, "breaker", "fault-current").verdict is Verdict.MISSING
    assert loop_ohm(plan.planned.circuit) is None
    assert volts_along(plan.planned) == ()


@pytest.mark.parametrize("way", ["run_out", "run_back"])
def test_the_remedy_says_that_a_length_is_missing_and_no_wire_is_bought(way: str) -> None:
    plan = planned(**{way: None})
    assert plan.remedy.startswith("run to the bow: not measured: wire from ")
    assert not any("AWG" in line for line in plan.buy)


def test_a_wire_beside_one_that_is_not_known_has_no_drop_of_the_run() -> None:
    known = {"size": "6 AWG", "out": 2.0, "back": 2.0}
    wires = [
        Part(name, PartKind.WIRE, name, figures) for name, figures in (("a", known), ("b", {**known, "out": None}))
    ]
    load = Part("motor", PartKind.LOAD, "motor", {"current": 40.0, "nominal": 24.0, "class": "bow-motor"})
    drop = judge_circuit(Circuit((*wires, load)), "industry").of("a").finding("voltage-drop")
    assert drop is not None
    assert drop.verdict is Verdict.MISSING
