"""The search of every order finds what it must: on a job that is sound nothing, on each spoilt one its hole."""

from dataclasses import replace
from unittest.mock import patch

import pytest

from engine.session import decide_work, gates
from engine.session.all_orders import stale_proofs, zone_offences
from tests.session.small_work import SMALL


@pytest.mark.parametrize("zone", ["feed", "run"])
def test_a_sound_job_has_no_offence(zone):
    assert list(zone_offences(SMALL, zone, SMALL.steps)) == []
    assert list(stale_proofs(SMALL, SMALL.steps)) == []


def without(step, **keys):
    return tuple(replace(s, **keys) if s.id == step else s for s in SMALL.steps)


@pytest.mark.parametrize(
    ("steps", "zone", "says"),
    [
        (without("lift", isolates=("feed",)), "run", "may be live"),
        (without("dead-run", proves_dead=()), "feed", ""),
        (tuple(s for s in SMALL.steps if not s.proves_dead), "run", "nothing shows"),
    ],
)
def test_a_zone_that_nothing_isolates_or_proves_is_found(steps, zone, says):
    found = list(zone_offences(SMALL, zone, steps))
    assert [offence.sentence for offence in found if says in offence.sentence] == [o.sentence for o in found]
    assert bool(found) == bool(says)


def test_gates_that_forget_something_are_found():
    """The account asks none of the functions that it is held against: each is put out of order once."""
    with patch.object(gates, "needs_of_work", lambda *_: ()):
        assert list(zone_offences(SMALL, "run", SMALL.steps))
    with patch.object(decide_work, "standing_proofs", lambda *_: []):
        assert "nothing shows" in next(zone_offences(SMALL, "run", SMALL.steps)).sentence
    with patch.object(decide_work, "gap", lambda *_: None):
        assert "nothing shows" in next(zone_offences(SMALL, "run", SMALL.steps)).sentence
    with patch.object(decide_work, "route", lambda procedure, state, start: list(start)):
        assert list(zone_offences(SMALL, "run", SMALL.steps))
        assert list(stale_proofs(SMALL, SMALL.steps))
