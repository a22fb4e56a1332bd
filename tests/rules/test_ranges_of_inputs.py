"""Every number outside its range is refused by every check, in a sentence that names argument, value and range."""

import math
import shlex

import pytest

from engine.finding import Value
from engine.published.profiles import profile
from engine.rules.ask import from_text
from engine.rules.check import TO_BASE, Context, Input
from engine.rules.registry import CHECK_NAMES, check
from engine.trade.ranges import OutOfRange

LIMITED = [
    (name, item)
    for name in CHECK_NAMES
    for item in check(name).inputs
    if item.low is not None
    and item.high is not None
    and item.unit not in ("wire", "yes/no", "choice", "words", "pin map")
]


def example_of(name: str) -> dict[str, Value]:
    found = check(name)
    given = from_text(found, dict(word.split("=", 1) for word in shlex.split(found.example)[3:]))
    assert isinstance(given, dict)
    return given


def refused(name: str, item: Input, typed: float) -> str:
    """Return the sentence of the refusal; ``typed`` is in the input's own unit."""
    value = typed * TO_BASE.get(item.unit, 1.0)
    given = example_of(name) | {item.name: (value,) if item.many else value}
    with pytest.raises(OutOfRange) as found:
        check(name).run(given, Context(profile()))
    return str(found.value)


@pytest.mark.parametrize(("name", "item"), LIMITED, ids=lambda part: part if isinstance(part, str) else part.name)
def test_a_number_past_either_end_is_named_with_its_range(name: str, item: Input) -> None:
    assert item.low is not None
    assert item.high is not None
    step = max(0.01 * (item.high - item.low), 1e-6)
    for typed in (item.low - step, item.high + step):
        said = refused(name, item, typed)
        assert said.startswith(f"{item.name} is ")
        assert f"it must be from {item.low:g} to {item.high:g}" in said


@pytest.mark.parametrize(("name", "item"), LIMITED, ids=lambda part: part if isinstance(part, str) else part.name)
def test_what_is_no_number_at_all_is_refused(name: str, item: Input) -> None:
    assert refused(name, item, math.nan).startswith(f"{item.name} is nan")


@pytest.mark.parametrize("name", CHECK_NAMES)
def test_leaving_out_a_required_input_gives_a_missing_finding_that_says_what(name: str) -> None:
    found = check(name)
    for item in found.inputs:
        if item.required:
            given = {key: value for key, value in example_of(name).items() if key != item.name}
            finding = found.run(given, Context(profile()))
            assert (finding.verdict, finding.sentence) == ("missing", f"not measured: {item.says}")
