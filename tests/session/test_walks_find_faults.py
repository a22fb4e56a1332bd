"""The walks can fail: a fault planted in a gate is found by the ledger within a few dozen walks."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from desk import on_the_way
from walking import walk

from engine.finding import Verdict
from engine.procedure.model import Hold
from engine.session import allowed, decide_end, decide_entry, decide_finding, decide_people, decide_step, gates
from engine.session import decide as decide_room
from engine.session.commands import HandOver
from engine.session.outcome import Decided, Refusal
from engine.session.runner import Runner

WALKS = 300
PROCEDURES = ("outlet-12v", "nav-lights", "bow-receptacle")

Plant = Callable[[pytest.MonkeyPatch], None]


def patched(module: Any, name: str, fault: Callable[[Any], Any]) -> Plant:
    return lambda patch: patch.setattr(module, name, fault(getattr(module, name)))


def _firm_may_be_deviated_from(patch: pytest.MonkeyPatch) -> None:
    patch.setitem(allowed._TABLE, Verdict.FAIL, (allowed.DEVIATE, allowed.DEVIATE, allowed.DEVIATE))


def _firm_may_be_left_out(patch: pytest.MonkeyPatch) -> None:
    def where(*given: Any) -> Any:
        step = real(*given)
        return step if isinstance(step, Refusal) else replace(step, hold=Hold.NONE)

    real = decide_entry._step_of
    patch.setattr(decide_entry, "_step_of", where)


def _no_hold_is_looked_at(patch: pytest.MonkeyPatch) -> None:
    for room in (decide_step, decide_entry, decide_finding):
        patch.setattr(room, "shut", lambda work, state, step, now, anew=False: ())


def _newcomer_proves_nothing(patch: pytest.MonkeyPatch) -> None:
    def hand_over(*given: Any) -> Any:
        decision = decide_people.hand_over(*given)
        if not isinstance(decision, Decided):
            return decision
        return Decided(tuple(replace(event, voided=[], rejudged=[]) for event in decision.events))

    patch.setitem(decide_room._DECIDERS, HandOver, hand_over)


FAULTS: dict[str, Plant] = {
    "a gate that was done counts though its evidence ended": patched(
        gates, "stands", lambda real: lambda work, state, step, now: step in state.done
    ),
    "a gate's evidence has no age": patched(gates, "fresh", lambda real: lambda *given: True),
    "a reading is never too old to end its step": patched(decide_step, "fresh", lambda real: lambda *given: True),
    "the clock set back is not seen": patched(Runner, "_clock_note", lambda real: lambda *given: None),
    "a break ends nothing": patched(decide_people, "_expired", lambda real: lambda *given, **more: False),
    "a reconnected source ends nothing": patched(
        decide_step, "_done", lambda real: lambda *given: replace(real(*given), ended=[])
    ),
    "a newcomer proves nothing again": _newcomer_proves_nothing,
    "a step done again voids only itself": patched(
        decide_step, "void_with", lambda real: lambda work, state, step: [step]
    ),
    "what a step done again had finished stays finished": patched(
        decide_step, "applicable", lambda real: lambda *given: ()
    ),
    "holds before a step are not looked at": _no_hold_is_looked_at,
    "a firm hold takes a deviation": _firm_may_be_deviated_from,
    "a reading of a firm hold may be left out": _firm_may_be_left_out,
    "a correction has nothing ended again": patched(decide_entry, "rejudged_by_value", lambda real: lambda *given: []),
    "what is left to do is not noted": patched(decide_step, "_items", lambda real: lambda *given: ()),
    "closing asks only for holds and for what finishes something": patched(
        decide_end, "applicable", lambda real: lambda *given: tuple(s for s in real(*given) if s.hold or s.closes)
    ),
    "a finding is settled once it is recorded": patched(decide_step, "_settled", lambda real: lambda *given: True),
    "entries need not be given": patched(decide_step, "open_entries", lambda real: lambda *given: ()),
}


def found(plant: Plant) -> str:
    """Return what the ledger says of the planted fault, or an empty text."""
    with pytest.MonkeyPatch.context() as patch:
        for name in PROCEDURES:
            on_the_way(name)
        plant(patch)
        for seed in range(WALKS):
            try:
                walk(PROCEDURES[seed % 3], seed, to_the_end=seed % 4 == 0)
            except AssertionError as failed:
                return str(failed) or "it failed"
    return ""


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found(fault: str) -> None:
    assert found(FAULTS[fault])
