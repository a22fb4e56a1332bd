"""Random jobs against the ledger: none is dishonest, none has hands on an unproved stretch; a planted fault shows."""

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import pytest

from engine.procedure.model import Hold, Step
from engine.session import commands as c
from engine.shipped import shipped
from tests.ledger.desk import Desk, clean_jobs, played, shipped_procedure
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
    """Return what takes these keys out of a step, as far as the language has them."""
    known = {field.name for field in fields(Step)}
    return lambda step: replace(step, **{key: value for key, value in changes.items() if key in known})


def _no_dead_proof(step: Step) -> Step:
    return without(needs=tuple(n for n in step.needs if n != "prove-dead"), hands_on=())(step)


UNJUDGED = without(checks=(), limits=(), hold=Hold.NONE)
FORGETFUL = without(voids=(), works=())

FAULTS: dict[str, tuple[Sequence, str, Callable[[Step], Step]]] = {
    "hands need no dead proof": (
        Sequence("nav-lights", (c.Redo("land"), GoOn()), after="polarity"), "", _no_dead_proof,
    ),
    "the bank back on ends no proof": (
        Sequence("nav-lights", (c.Redo("land"), GoOn()), after="connect"), "connect", without(ends=(), feeds=()),
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
    "the link again asks for no sign": (
        Sequence("bow-receptacle", (c.Redo("link-in"), GoOn()), after="trip"), "link-in", FORGETFUL,
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found(fault: str) -> None:
    sequence, at, change = FAULTS[fault]
    work = shipped_procedure(sequence.procedure)
    planted = replace(work, steps=tuple(change(s) if at in ("", s.id) else s for s in work.steps))
    begun = next(d for d in played(planted, clean_jobs(work.id)[sequence.job]) if sequence.after in d.state.done)
    assert _offences(sequence, begun.copy()) - _offences(sequence) - clean_offences(work.id).keys()


def _offences(sequence: Sequence, desk: Desk | None = None) -> set[Key]:
    return set(play(sequence, desk)[0].ledger.offences)
