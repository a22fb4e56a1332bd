"""What counts is worked out once until a value moves, and is never out of date."""

import pytest

from engine.review.audit import procedure_of
from engine.session.apply import apply
from engine.session.codec import from_flat
from engine.session.gates import applicable
from engine.session.scan import read_log
from engine.session.standing import counting, standing
from engine.session.state import State
from tests.samples.remake import NAMES


@pytest.mark.parametrize("name", NAMES)
def test_what_counts_is_the_same_after_every_event_as_worked_out_anew(name, sample):
    found, state = read_log(sample(name)), State()
    procedure = procedure_of(found.header["procedure_text"])
    for event in found.events:
        apply(state, from_flat(event))
        values = counting(procedure, state.values())
        assert standing(procedure, state) == values
        wanted = [s.id for s in procedure.steps if s.when is None or s.when.holds(values) is True]
        assert [s.id for s in applicable(procedure, state)] == wanted


def test_what_counts_under_one_procedure_is_not_kept_for_another(sample):
    found = read_log(sample("grey-heron-clean"))
    text, state = found.header["procedure_text"], State()
    for event in found.events:
        apply(state, from_flat(event))
    one = procedure_of(text)
    standing(one, state)
    other = procedure_of(read_log(sample("plover-clean")).header["procedure_text"])
    assert [s.id for s in applicable(other, state)] != [s.id for s in applicable(one, state)]
