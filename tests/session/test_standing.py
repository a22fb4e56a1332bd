"""What counts is worked out once until a value moves, and is never out of date."""

import pytest

from engine.review.audit import procedure_of
from engine.session.apply import apply
from engine.session.codec import from_flat
from engine.session.gates import applicable
from engine.session.scan import read_log
from engine.session.standing import counting, standing
from engine.session.state import State
from engine.shipped import folder

LOGS = sorted(p for p in folder("sample_sessions").glob("*.toml") if not p.name.endswith(".answers.toml"))


@pytest.mark.parametrize("log", LOGS, ids=lambda p: p.stem)
def test_what_counts_is_the_same_after_every_event_as_worked_out_anew(log):
    found, state = read_log(log), State()
    procedure = procedure_of(found.header["procedure_text"])
    for event in found.events:
        apply(state, from_flat(event))
        values = counting(procedure, state.values())
        assert standing(procedure, state) == values
        wanted = [s.id for s in procedure.steps if s.when is None or s.when.holds(values) is True]
        assert [s.id for s in applicable(procedure, state)] == wanted


def test_what_counts_under_one_procedure_is_not_kept_for_another():
    found = read_log(folder("sample_sessions") / "grey-heron-clean.toml")
    text, state = found.header["procedure_text"], State()
    for event in found.events:
        apply(state, from_flat(event))
    one = procedure_of(text)
    standing(one, state)
    other = procedure_of(read_log(folder("sample_sessions") / "plover-clean.toml").header["procedure_text"])
    assert [s.id for s in applicable(other, state)] != [s.id for s in applicable(one, state)]
