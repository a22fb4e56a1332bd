"""Random jobs against the ledger: none is dishonest, none has hands on an unproved stretch; a planted fault shows."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from engine.procedure.model import Hold, Step
from engine.session import commands as c
from engine.shipped import shipped
from tests.ledger.desk import Desk, Wait, clean_jobs, played, shipped_procedure
from tests.ledger.ledger import Key
from tests.ledger.sequence import GoOn, Sequence, clean_offences, play, written
from tests.ledger.walk import shortest, walk

NAMES = [path.stem for path in shipped()]
WALKS = 40
"""Random jobs a procedure here; the bench tries 10,000."""


@pytest.mark.parametrize("name", NAMES)
def test_no_random_job_is_dishonest(name: str) -> None:
    for seed in range(WALKS):
        one = walk(name, seed)
        for key, offence in one.offences().items():
            pytest.fail(f"seed {seed}: {offence.sentence}\n{written(shortest(one, key))}")


def without(**changes: Any) -> Callable[[Step], Step]:
    return lambda step: replace(step, **changes)


UNJUDGED = without(checks=(), limits=(), hold=Hold.NONE)
FORGETFUL = without(works=(), proves=(), makes=())

FAULTS: dict[str, tuple[Sequence, str, Callable[[Step], Step]]] = {
    "hands need no dead proof": (
        Sequence("nav-lights", (c.Redo("land"), GoOn()), after="polarity"), "", without(hands_on=()),
    ),
    "the bank back on ends no proof": (
        Sequence("nav-lights", (c.Redo("land"), GoOn()), after="connect"), "connect", without(feeds=()),
    ),
    "any volts prove it dead": (
        Sequence("outlet-12v", (c.Take("dead_pair", "12.6"), GoOn()), after="known-source"), "prove-dead", UNJUDGED,
    ),
    "any sign is right": (
        Sequence("outlet-12v", (c.Take("v_polarity", "-12.6"), GoOn()), after="fuse-in"), "polarity", UNJUDGED,
    ),
    "the crimp again asks for no pull": (
        Sequence("outlet-12v", (c.Redo("crimp-plus"), GoOn()), after="pull-block"), "crimp-plus", FORGETFUL,
    ),
    "the joint again asks for no proof": (
        Sequence("bow-receptacle", (c.Redo("negative-in"), GoOn()), after="positions"), "negative-in", FORGETFUL,
    ),
    "the ends again ask for no joint": (
        Sequence("bow-receptacle", (c.Redo("strip"), GoOn()), after="positions"), "strip", FORGETFUL,
    ),
    "a proof lasts as long as it likes": (
        Sequence("outlet-12v", (Wait(3600.0), GoOn()), after="prove-dead"), "", without(takes_s=1e9),
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found(fault: str) -> None:
    sequence, at, change = FAULTS[fault]
    work = shipped_procedure(sequence.procedure)
    planted = replace(work, steps=tuple(change(s) if at in ("", s.id) else s for s in work.steps))
    begun = next(d for d in played(planted, clean_jobs(work.id)[sequence.job]) if sequence.after in d.state.done)
    begun.takes_s = {s.id: s.takes_s for s in work.steps}
    assert _offences(sequence, begun.copy()) - _offences(sequence) - clean_offences(work.id).keys()


def _offences(sequence: Sequence, desk: Desk | None = None) -> set[Key]:
    return set(play(sequence, desk)[0].ledger.offences)
