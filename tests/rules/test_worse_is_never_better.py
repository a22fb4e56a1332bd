"""A worse reading never gets a better verdict, nor an easier gate: every check, every input that has a worse way.

The order of verdicts is by what they ask of a person; the gates are the table of the session. A finding that doubts its
own reading (nothing at all across a joint, a terminal colder than its air) is left aside: there the better-looking
reading is the doubtful one.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from engine.finding import Finding, Value, Verdict
from engine.procedure.model import Hold
from engine.published.profiles import profile, profile_names
from engine.rules.check import Accuracy, Check, Context, Input
from engine.rules.part import NOT_BELIEVED
from engine.rules.registry import CHECK_NAMES, check
from engine.session.allowed import ACCEPT, DEVIATE, EVIDENCE, ON, needed
from engine.trade.conductor import area_mm2
from engine.trade.ranges import OutOfRange
from tests.rules.any_input import any_value, single

REFUSED = "refused: inputs that contradict each other"

EFFORT = (ON, ACCEPT, DEVIATE, EVIDENCE)

COARSER = (("joint", "current"), ("measured-drop", "current"), ("heat", "current"))
"""Where less of it also makes the reading coarser: held against each other with instruments that make no error."""

WORSE = [(name, item.name) for name in CHECK_NAMES for item in check(name).inputs if item.worse]


def rank(item: Input, value: Value) -> float:
    """Return how far along "more" a single value is."""
    if isinstance(value, str):
        return item.choices.index(value) if item.choices else _area_mm2(value)
    assert isinstance(value, bool | int | float)
    return float(value)


def _area_mm2(size: str) -> float:
    try:
        return area_mm2(size)
    except OutOfRange:
        reject()


def judged(found: Check, values: dict[str, Value], rules: str, *, exact: bool) -> Finding:
    """Return the finding; what the check refuses is undecided, as a step shows it."""
    perfect = {item.name: Accuracy(0, 0, 0) for item in found.inputs} if exact else {}
    try:
        return found.run(values, Context(profile(rules), perfect))
    except OutOfRange as refused:
        return Finding(found.name, Verdict.UNDECIDED, str(refused), conditions=(REFUSED,), firm=found.firm)


@st.composite
def two(draw: st.DrawFn, name: str, worse: str) -> tuple[dict[str, Value], dict[str, Value], str]:
    """Draw all inputs of a check, and the same with one of them worse."""
    found = check(name)
    item = found.known[worse]
    better = {other.name: draw(any_value(other), label=other.name) for other in found.inputs}
    near = st.floats(-0.5, 0.5) if item.low is not None and item.high is not None else st.nothing()
    first, second = draw(single(item)), draw(single(item) | near)
    if isinstance(first, float) and isinstance(second, float) and -0.5 <= second <= 0.5:
        second = first * (1 + second)  # a reading close by, so that limits are straddled
        low, high = item.range_in_base()
        assume(low <= second <= high)
    if item.unit == "":  # a count
        first, second = (float(round(x)) if isinstance(x, float) and math.isfinite(x) else x for x in (first, second))
    first, second = sorted((first, second), key=lambda value: rank(item, value), reverse=item.worse == "less")
    if not item.many:
        return better | {worse: first}, better | {worse: second}, draw(st.sampled_from(profile_names()))
    rest = tuple(draw(st.lists(single(item), max_size=3)))
    return better | {worse: (first, *rest)}, better | {worse: (second, *rest)}, draw(st.sampled_from(profile_names()))


def holds(name: str, better: dict[str, Value], worse: dict[str, Value], rules: str, *, exact: bool = False) -> None:
    """Assert that the worse inputs are judged no better and let nobody on more easily."""
    first, second = (judged(check(name), values, rules, exact=exact) for values in (better, worse))
    if NOT_BELIEVED in first.conditions or REFUSED in first.conditions:
        return
    assert second.verdict.severity >= first.verdict.severity, (first.sentence, second.sentence)
    for hold in Hold:
        asked = [EFFORT.index(needed(found.verdict, hold, firm=found.firm)) for found in (first, second)]
        assert asked[1] >= asked[0], (hold, first.sentence, second.sentence)


@pytest.mark.parametrize(("name", "worse"), WORSE)
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_worse_is_never_better_nor_easier(name: str, worse: str, data: st.DataObject) -> None:
    # Source: this project's rule; the order of verdicts and gates as in the session's own table.
    better, worsened, rules = data.draw(two(name, worse))
    holds(name, better, worsened, rules, exact=(name, worse) in COARSER or data.draw(st.booleans(), label="exact"))


@settings(max_examples=200, deadline=None)
@given(st.floats(-20, 69), st.floats(0, 20), st.floats(0, 20), st.floats(-20, 40), st.floats(1, 60), st.floats(0, 1200))
def test_hotter_is_never_easier(
    hot: float, more: float, cooler: float, ambient: float, current: float, seconds: float
) -> None:
    # Source: as above. The cooler terminal of a pair has no worse way: nearer to the hot one it differs less.
    values: dict[str, Value] = {"ambient": ambient, "current": current, "rated": 48.0, "minutes": seconds}
    better = values | {"positive": hot, "negative": hot - cooler}
    holds("heat", better, better | {"positive": hot + more}, "industry")


def test_a_planted_reward_is_found() -> None:
    # A check that lets a hotter contact on more easily is caught by the same assertion.
    found = check("fuse-load")
    flawed = replace(found, judge=lambda given, context: Finding("fuse-load", Verdict.PASS, "more is fine"))
    assert flawed.run({"load": 20.0, "fuse": 10.0}, Context(profile())).verdict is Verdict.PASS
    assert found.run({"load": 20.0, "fuse": 10.0}, Context(profile())).verdict is Verdict.FAIL
