"""A verdict names the reading that it is about, and no other: a fault is planted in each reading of every check that
takes several, and of every check that its step has twice.

The names are those of the procedures, the values the ends of what may be typed at all.
"""

from collections.abc import Iterator

import pytest

from engine.finding import Finding, Value
from engine.procedure.model import Entry, Procedure, Step
from engine.procedure.model_circuit import Reference, StepCheck
from engine.review.audit import audit_file
from engine.session.judge import judge, keyed
from engine.session.state import State
from tests.samples import remake
from tests.samples.remake import Sample

CLEAN = [name for name in remake.NAMES if name.endswith("-clean")]
HELD_AGAINST = ("curve",)
"""Lists of what readings are held against: a verdict is about the reading."""


def faults(entry: Entry) -> Iterator[Value]:
    """Give values that may be typed, and hardly belong there."""
    yield from (*(entry.hard or ()), *([float("inf")] if entry.over_range else []))
    if entry.hard and entry.hard[0] < 0.0:
        yield 0.0


def lists(check: StepCheck) -> set[str]:
    """Return the entries that stand with others in a list."""
    operands = (o for name, o in check.inputs.items() if name not in HELD_AGAINST and isinstance(o, Reference))
    return {i for operand in operands if len(set(operand.ids)) > 1 for i in operand.ids}


def asked_again(step: Step, key: str) -> dict[str, Value]:
    """Return the readings under load that a doubtful point asks for, as they are where it is dead."""
    operand = dict(keyed(step))[key].inputs.get("loaded")
    return dict.fromkeys(operand.ids, 0.0) if isinstance(operand, Reference) else {}


def planted(work: Procedure, state: State, step: Step, key: str, entries: set[str]) -> Iterator[tuple[Entry, Finding]]:
    """Give the finding of a check that got worse by a fault in one entry."""
    good = judge(work, state, step)
    for entry in (work.entry_by_id[i] for i in sorted(entries)):
        for value in faults(entry):
            found = judge(work, state, step, asked_again(step, key) | {entry.id: value}).get(key)
            if key in good and found is not None and found.verdict.severity > good[key].verdict.severity:
                yield entry, found


def asks(work: Procedure, entries: set[str], sentence: str) -> set[str]:
    return {i for i in entries if work.entry_by_id[i].ask in sentence}


def test_a_fault_in_one_of_a_list_names_that_one_and_no_other(sample: Sample) -> None:
    seen = set[tuple[str, str]]()
    for name in CLEAN:
        audited = audit_file(sample(name))
        assert audited.procedure is not None
        work = audited.procedure
        for step in work.steps:
            for key, check in keyed(step):
                for entry, found in planted(work, audited.state, step, key, lists(check)):
                    assert asks(work, lists(check), found.sentence) == {entry.id}, (entry.id, found.sentence)
                    seen.add((work.id, entry.id))
    assert len(seen) > 50


@pytest.mark.parametrize("name", CLEAN)
def test_where_a_check_stands_twice_its_verdict_names_what_only_that_one_judges(name: str, sample: Sample) -> None:
    audited = audit_file(sample(name))
    assert audited.procedure is not None
    work, state = audited.procedure, audited.state
    for step in work.steps:
        good = judge(work, state, step)
        checks = {key: check for key, check in keyed(step) if key in good}
        for key, check in checks.items():
            others = {i for k, o in checks.items() if k != key and o.name == check.name for i in o.entries}
            if not others:
                continue
            for _, found in planted(work, state, step, key, set(check.entries)):
                assert asks(work, set(check.entries - others), found.sentence), found.sentence
                assert not asks(work, others - check.entries, found.sentence), found.sentence


def test_the_far_lamp_is_named_where_the_far_lamp_is_dim(sample: Sample) -> None:
    """It had named the plug, where 12.3 V stood: a good joint would have been opened."""
    audited = audit_file(sample("kestrel-6-clean"))
    assert audited.procedure is not None
    step = audited.procedure.step_by_id["lamp-volts"]
    found = judge(audited.procedure, audited.state, step, {"v_turn": 5.0})
    assert {key: each.sentence for key, each in found.items() if each.verdict == "fail" and key.startswith("lamp")} == {
        "lamp 2": "Farthest turn lamp, at its contacts, while lit: lamp gets 41.7 % of its design volts, needs 85"
    }


def test_two_crossed_wires_are_both_named(sample: Sample) -> None:
    """It had named the first wire, which was whole."""
    audited = audit_file(sample("godwit-clean"))
    assert audited.procedure is not None
    step = audited.procedure.step_by_id["map"]
    crossed: dict[str, Value] = {"ohm_b": float("inf"), "ohm_c": float("inf"), "ohm_bc": 0.4}
    (sentence,) = (each.sentence for each in judge(audited.procedure, audited.state, step, crossed).values()
                   if each.check == "pin-map")  # fmt: skip
    assert sentence == "contacts 2 and 3 swapped: Wire B, end to end; Wire C, end to end"
