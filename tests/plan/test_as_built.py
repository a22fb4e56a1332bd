"""The circuit as built: what was read during the work takes the place of what was planned, and no plan waits for it."""

import pytest

from engine.plan.circuit import as_built, as_planned
from engine.plan.plan import make_plan, planned_figures
from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.shipped import find, folder

PROCEDURE = load(find("bow-receptacle"))
FACTS = facts_of(PROCEDURE, load_answers(folder("sample_sessions") / "grey-heron-facts.answers.toml"))
CUT = {"new_out": 5.9, "new_back": 6.5}


def loop_ohm(values: dict[str, object]) -> float:
    found = planned_figures(PROCEDURE, values, "industry")["plan.loop"]  # type: ignore[arg-type]
    assert isinstance(found, float)
    return found


def test_before_the_wire_is_cut_the_circuit_is_as_planned() -> None:
    assert as_built(PROCEDURE, FACTS) == as_planned(PROCEDURE, FACTS)


def test_the_loop_grows_with_the_wire_as_cut() -> None:
    # Worked by hand: 5.2 m out and back planned, 5.9 m and 6.5 m cut: 12.4 m for 10.4 m of the same wire.
    assert loop_ohm(FACTS | CUT) / loop_ohm(dict(FACTS)) == pytest.approx(12.4 / 10.4)


def test_the_plan_stays_as_it_was_judged() -> None:
    assert make_plan(PROCEDURE, FACTS | CUT, "industry").planned == make_plan(PROCEDURE, FACTS, "industry").planned


def test_no_plan_waits_for_a_reading_of_the_work() -> None:
    assert PROCEDURE.built_entries - PROCEDURE.plan_entries == {"new_out", "new_back"}
