"""The demo's facts with some changed, and the plan that they give."""

from engine.finding import Finding, Value
from engine.plan.plan import Plan, make_plan
from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.shipped import find, folder

PROCEDURE = load(find("bow-receptacle"))
FACTS = facts_of(PROCEDURE, load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml"))


def planned(profile: str = "industry", /, **changed: Value) -> Plan:
    """Return the plan of the demo with some facts changed; one that is None is not known."""
    values = {**FACTS, **changed}
    return make_plan(PROCEDURE, {name: value for name, value in values.items() if value is not None}, profile)


def finding(plan: Plan, part: str, check: str) -> Finding:
    """Return one finding on the planned circuit."""
    found = plan.planned.of(part).finding(check)
    assert found is not None
    return found
