"""Every check, on any input inside its ranges: a finding or one plain sentence, never anything else."""

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.finding import Finding, Value
from engine.published.profiles import profile, profile_names
from engine.rules.check import TO_BASE, Check, Context, Input
from engine.rules.registry import CHECK_NAMES, check
from engine.trade.ranges import OutOfRange

SIZES = ("18 AWG", "14 AWG", "10 AWG", "8 AWG", "6 AWG", "1/0 AWG", "4/0 AWG", "SAE 8", "SAE 20", "6 mm2", "16 mm2")
LONG_NAMES = " ".join(f"windlass-{far}" for far in ("backward", "junction", "reversed", "windlass", "starting"))
MAPS = ("1-1 2-2", "1-2 2-1", "1-OL 2-2=300", LONG_NAMES, "windlass-OL", "no map")
LARGE = 1e6
LONGEST = 110


def single(item: Input) -> st.SearchStrategy[Value]:
    if item.unit == "yes/no":
        return st.booleans()
    if item.choices:
        return st.sampled_from(item.choices)
    if item.unit == "wire":
        return st.sampled_from(SIZES)
    if item.unit == "pin map":
        return st.sampled_from(MAPS)
    if item.unit == "words":
        return st.text(max_size=20)
    low = -LARGE if item.low is None else item.low
    high = LARGE if item.high is None else item.high
    numbers = st.one_of(st.floats(low, high), st.sampled_from((low, high)))
    scaled = numbers.map(lambda number: number * TO_BASE.get(item.unit, 1.0))
    return st.one_of(scaled, st.just(math.inf)) if item.over_range else scaled


def any_value(item: Input) -> st.SearchStrategy[Value]:
    value = st.lists(single(item), min_size=1, max_size=5).map(tuple) if item.many else single(item)
    return value if item.required else st.one_of(st.none(), value)


@pytest.mark.parametrize("name", CHECK_NAMES)
@settings(max_examples=60, deadline=None)
@given(data=st.data(), rules=st.sampled_from(profile_names()))
def test_finding_or_sentence(name: str, data: st.DataObject, rules: str) -> None:
    found = check(name)
    values = {item.name: data.draw(any_value(item), label=item.name) for item in found.inputs}
    finding = judged_or_refused(found, values, rules)
    if finding is None:
        return
    assert finding.sentence
    assert "\n" not in finding.sentence
    assert len(finding.sentence) <= LONGEST, finding.sentence
    assert finding.sources
    json.dumps(finding.to_json(), allow_nan=False)


def judged_or_refused(found: Check, values: dict[str, Value], rules: str) -> Finding | None:
    try:
        return found.run(values, Context(profile(rules)))
    except OutOfRange:
        return None
