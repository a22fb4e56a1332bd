"""Every check, on any input inside its ranges: a finding or one plain sentence, never anything else."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.finding import Finding, Value
from engine.published.profiles import profile, profile_names
from engine.rules.check import Check, Context
from engine.rules.registry import CHECK_NAMES, check
from engine.trade.ranges import OutOfRange
from tests.rules.any_input import any_value

LONGEST = 110


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
