"""A plan that was made is kept for the same circuit, and never handed out for another."""

from engine.plan.plan import make_plan
from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.shipped import find, folder

PROCEDURE = load(find("bow-receptacle"))
FACTS = facts_of(PROCEDURE, load_answers(folder("sample_sessions") / "grey-heron-facts.answers.toml"))


def test_the_same_facts_give_the_plan_that_was_made() -> None:
    assert make_plan(PROCEDURE, dict(FACTS), "industry") is make_plan(PROCEDURE, dict(FACTS), "industry")


def test_another_length_of_wire_gives_another_plan() -> None:
    one = make_plan(PROCEDURE, FACTS, "industry")
    assert make_plan(PROCEDURE, FACTS | {"run_out": 9.0}, "industry").verdict != one.verdict


def test_another_rule_profile_gives_another_plan() -> None:
    assert make_plan(PROCEDURE, FACTS, "federal").profile != make_plan(PROCEDURE, FACTS, "industry").profile


def test_a_yes_and_a_one_are_not_the_same_figure() -> None:
    one = make_plan(PROCEDURE, FACTS | {"breaker_sheathed": True}, "industry")
    assert make_plan(PROCEDURE, FACTS | {"breaker_sheathed": 1.0}, "industry") is not one
