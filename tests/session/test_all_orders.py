"""The search of every order finds what it must: on a job that is sound nothing, on each spoilt one its hole."""

from dataclasses import replace
from unittest.mock import patch

import pytest

from engine.procedure.limit import parse
from engine.procedure.model import Entry
from engine.session import all_orders, all_pairs, decide_work, gates
from engine.session.all_orders import Touch, search_zone
from engine.session.all_pairs import stale_proofs
from tests.session.small_work import SMALL, job, step

ISOLATE, PROVE, FEED, HANDS = ("isolates",), ("proves_dead",), ("feeds",), ("hands_on",)


@pytest.fixture(autouse=True)
def fresh_search():
    """Keep no finding of a gate that is spoilt for the next test, here or elsewhere."""
    all_orders._search.cache_clear()
    all_pairs._way_to_stale.cache_clear()
    yield
    all_orders._search.cache_clear()
    all_pairs._way_to_stale.cache_clear()


def offence(procedure, zone, *jobs):
    return search_zone(procedure, zone, jobs or (procedure.steps,)).offence


@pytest.mark.parametrize("zone", ["feed", "run"])
def test_a_sound_job_has_no_offence(zone):
    found = search_zone(SMALL, zone, [SMALL.steps])
    assert found.offence is None
    assert found.states > 20
    assert list(stale_proofs(SMALL, SMALL.steps)) == []


@pytest.mark.parametrize(
    ("module", "name", "instead", "says"),
    [
        (gates, "needs_of_work", lambda *_: (), "it is proved dead while it may be live"),
        (decide_work, "standing_proofs", lambda *_: [], "hands go on it while nothing shows that it is dead"),
        (decide_work, "gap", lambda *_: None, "hands go on it while nothing shows that it is dead"),
        (decide_work, "fed_by", lambda *_: [], "it is proved dead while it may be live"),
    ],
)
def test_gates_that_forget_something_are_found(module, name, instead, says):
    """The account asks none of the functions that it is held against: each is put out of order once."""
    with patch.object(module, name, instead):
        found = offence(SMALL, "run")
    assert says in found.sentence
    assert found.step in {s.id for s in SMALL.steps}


def test_a_proof_that_outlives_the_work_under_it_is_found():
    with patch.object(decide_work, "route", lambda procedure, state, start: list(start)):
        found = list(stale_proofs(SMALL, SMALL.steps))
    assert {o.step for o in found} == {"strip", "pull", "polarity", "load"}
    assert found[0].way[-2:] == ("Redo work", "Finish work")


SOMETIMES = job(
    step("facts", asks=("taps",)),
    step("lift", isolates=("run",)),
    step("tap-off", isolates=("run",), when=parse('taps == "yes"', {"taps": "yes/no"})),
    step("known", proves_dead=("run",)),
    step("tap-dead", proves_dead=("run",), when=parse('taps == "yes"', {"taps": "yes/no"})),
    step("cut", hands_on=("run",)),
    step("connect", feeds=("run",)),
)
SOMETIMES = replace(SOMETIMES, facts=(Entry(id="taps", ask="Taps", unit="yes/no"),))
BARE = tuple(s for s in SOMETIMES.steps if s.when is None)


def test_a_correction_brings_back_no_isolation_that_the_job_lost_meanwhile():
    assert offence(SOMETIMES, "run", SOMETIMES.steps, BARE) is None


def test_an_isolation_that_outlives_a_feeding_in_another_job_is_found():
    ended = decide_work.fed_by

    def of_this_job(procedure, state, fed):
        here = {s.id for s in gates.applicable(procedure, state)}
        return [s for s in ended(procedure, state, fed) if s in here]

    with patch.object(decide_work, "fed_by", of_this_job):
        found = offence(SOMETIMES, "run", SOMETIMES.steps, BARE)
    assert "may be live" in found.sentence
    assert any(said.startswith("Correct") for said in found.way)


WHOLE = (ISOLATE, ISOLATE, PROVE, PROVE, HANDS, FEED)
TWICE = (ISOLATE, PROVE, HANDS, FEED, ISOLATE, PROVE, HANDS)
KINDS = (WHOLE, TWICE, (ISOLATE, PROVE, ISOLATE, PROVE, HANDS, FEED))


def whole(kinds):
    """Search all steps of one job at once, in no parts."""
    return all_orders._search(tuple(Touch(each, frozenset({0})) for each in kinds), 1)


def in_parts(kinds):
    """Search the same steps in parts."""
    names = ("isolates", "proves_dead", "feeds", "hands_on")
    steps = [step(f"s{n}", **{name: ("run",) for name in names if name in each}) for n, each in enumerate(kinds)]
    return search_zone(job(*steps), "run", [steps])


@pytest.mark.parametrize(
    "kinds",
    [WHOLE, (ISOLATE, PROVE, HANDS, FEED, ISOLATE, PROVE, HANDS), (ISOLATE, PROVE, ISOLATE, PROVE, HANDS, FEED)],
)
def test_the_parts_find_what_the_whole_finds(kinds):
    """A zone with all its steps at once: nothing either; with a gate out of order, the same offence."""
    assert (whole(kinds).offence, in_parts(kinds).offence) == (None, None)
    assert whole(kinds).states > in_parts(kinds).states
    for module, name, instead in (
        (decide_work, "standing_proofs", lambda *_: []),
        (decide_work, "gap", lambda *_: None),
        (decide_work, "fed_by", lambda *_: []),
    ):
        all_orders._search.cache_clear()
        with patch.object(module, name, instead):
            found = whole(kinds).offence, in_parts(kinds).offence
        assert found[0].sentence == found[1].sentence
