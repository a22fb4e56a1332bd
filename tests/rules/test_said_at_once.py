"""What one value decides is said at once, and the whole judgement says the same."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.finding import Finding, Value, Verdict
from engine.published.profiles import profile
from engine.rules.check import Context
from engine.rules.registry import CHECK_NAMES, at_once, check, run
from engine.trade.ranges import OutOfRange
from tests.rules.any_input import any_value

CONTEXT = Context(profile())


def said(name: str, **given: Value) -> Finding | None:
    """Return what is said at once of some values in base units."""
    return at_once(name, given, CONTEXT)


@pytest.mark.parametrize(
    ("name", "values", "words"),
    [
        ("dead", {"points": (0.0, -11.9)}, "-11.9 V: live"),
        ("dead", {"points": (150.0,)}, "150 V: live"),
        ("dead", {"loaded": (0.4,)}, "0.4 V under load"),
        ("polarity", {"volts": -25.3}, "reversed"),
        ("polarity", {"volts": 25.3, "nominal": 12.0}, "too many"),
        ("heat", {"positive": 70.0}, "too hot to touch"),
        ("heat", {"negative": 200.0, "current": 12.0, "rated": 60.0}, "too hot to touch"),
        ("lamp", {"lamp": 25.3, "design": 12.0}, "too many"),
        ("leak", {"current": -12.0}, "12 A with all off"),
        ("bank", {"batteries": (12.6, -12.6)}, "turned round"),
        ("bank", {"batteries": (25.3,), "battery_nominal": 12.0}, "not one battery"),
        ("spare-end", {"loaded": (0.0, 12.4)}, "something feeds it"),
    ],
)
def test_one_value_that_hurts_is_a_fail_with_what_the_hands_do(name: str, values: dict[str, Value], words: str) -> None:
    # Source: this project's rule: the moment that the value is taken, the screen says STOP.
    found = said(name, **values)
    assert found is not None
    assert found.verdict is Verdict.FAIL
    assert words in found.sentence
    assert found.hands.endswith(".")


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("dead", {}),
        ("dead", {"points": (0.0, 0.9), "known_before": 2.0}),
        ("polarity", {"volts": 25.3}),
        ("polarity", {"volts": 12.6, "nominal": 24.0}),
        ("polarity", {"volts": 0.5, "nominal": 12.0}),
        ("heat", {"positive": 69.0, "ambient": 20.0}),
        ("lamp", {"lamp": 25.3}),
        ("bank", {"batteries": (25.3,)}),
        ("spare-end", {"to_negative": (12.6,)}),
        ("joint", {"drop": 0.45}),
    ],
)
def test_nothing_is_said_before_it_is_decided(name: str, values: dict[str, Value]) -> None:
    # Source: each of these may still end well: a floating spare end under a lamp, a bank of 24 V batteries, the
    # middle of a bank that is measured there too.
    assert said(name, **values) is None


def test_input_that_no_check_has_is_refused() -> None:
    # Source: the contract of a check's inputs.
    with pytest.raises(OutOfRange, match="has no input"):
        said("dead", lamp=1.0)


def test_dangerous_value_is_a_fail_though_the_others_are_not_there() -> None:
    # Source: a live point is live whatever the known source reads later.
    assert run("dead", {"points": (11.9,)}, CONTEXT).verdict is Verdict.FAIL


@pytest.mark.parametrize("name", [name for name in CHECK_NAMES if check(name).danger is not None])
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_what_is_said_at_once_stands_whatever_else_is_given(name: str, data: st.DataObject) -> None:
    # Source: said at once is said for good: the whole judgement is a fail with the same words for the hands.
    asked = check(name)
    values = {item.name: data.draw(any_value(item), label=item.name) for item in asked.inputs}
    early = {n: v for n, v in values.items() if n == "source" or data.draw(st.booleans(), label=f"{n} is there")}
    first = at_once(name, early, CONTEXT)
    if first is None:
        return
    whole = run(name, values, CONTEXT)
    assert whole.verdict is Verdict.FAIL
    assert whole.hands
