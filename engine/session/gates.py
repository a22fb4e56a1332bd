"""Which steps apply, which are shut and why, and which one comes next: done, and still valid."""

from collections.abc import Mapping
from datetime import datetime

from engine.procedure.model import Entry, Hold, Procedure, Step
from engine.session.repeat import turn
from engine.session.standing import numbers, standing, undetermined
from engine.session.state import DoneStep, State
from engine.session.work import Need
from engine.session.work import needs as needs_of_work


def applies(procedure: Procedure, state: State, step: Step) -> bool:
    """Return whether a step belongs to this job (its condition holds)."""
    return step.when is None or step.id in numbers(procedure, state)


def applicable(procedure: Procedure, state: State) -> tuple[Step, ...]:
    """Return the steps of this job, in working order."""
    here = numbers(procedure, state)
    return tuple(s for s in procedure.steps if s.id in here) if len(here) < len(procedure.steps) else procedure.steps


def entries(procedure: Procedure, state: State, step: Step) -> tuple[Entry, ...]:
    """Return the facts and readings that this step asks for in this job, in order."""
    values = standing(procedure, state)
    return tuple(e for e in procedure.entries_of(step) if e.when is None or e.when.holds(values) is True)


def open_entries(procedure: Procedure, state: State, step: Step) -> tuple[Entry, ...]:
    """Return the entries of a step that were neither given, as often as wanted, nor said to be not measured."""
    return tuple(
        e
        for e in entries(procedure, state, step)
        if e.id not in state.absent and turn(e, state.given.get(e.id), state.instruments)
    )


def stands(procedure: Procedure, state: State, step_id: str, now: datetime) -> bool:
    """Return whether a step was done and its evidence still holds at ``now``.

    Evidence with an age limit does not hold if the clock stands earlier than when it was taken: it cannot be trusted.
    """
    done = state.done.get(step_id)
    if done is None or done.ended:
        return False
    return fresh(procedure.step_by_id[step_id], state, now, done)


def fresh(step: Step, state: State, now: datetime, done: DoneStep | None = None) -> bool:
    """Return whether the readings of a step are young enough at ``now``; without readings, whether ``done`` is.

    The oldest reading counts. What the clock was set back by since then is added to its age.
    """
    if step.lasts_s is None:
        return True
    moments = [(given.at, given.set_back_s) for given in state.given.values() if given.taken.step == step.id]
    if not moments:
        moments = [(done.at, done.set_back_s) if done else (state.last_at, state.set_back_s)]
    ages_s = [((now - datetime.fromisoformat(at)).total_seconds(), state.set_back_s - back) for at, back in moments]
    return all(age_s >= 0 and age_s + back_s <= step.lasts_s for age_s, back_s in ages_s)


def shut(procedure: Procedure, state: State, step: Step, now: datetime, *, anew: bool = False) -> tuple[Need, ...]:
    """Return what keeps a step shut: what zones and pieces ask for, steps not done or no longer valid, holds before it.

    A step that must only be ended again, since something it used was changed, asks for no fresh proof: nothing is done
    anew. ``anew`` says that something is (a value taken, the step redone).
    """
    steps = numbers(procedure, state)
    again = step.id in state.rejudged and not anew
    needs = {} if again else {need.step: need for need in needs_of_work(procedure, state, step)}
    for gate in _gates(procedure, step, steps):
        holds = gate in state.done if again or step.needs is None else stands(procedure, state, gate, now)
        if not holds:
            needs.setdefault(gate, _need(procedure, state, gate, steps[gate]))
    for before in procedure.watched[step.id]:
        if before.id in steps and before.hold is not Hold.NONE and before.id not in state.done:
            needs.setdefault(before.id, _need(procedure, state, before.id, steps[before.id]))
    return (*_unknown(procedure, state, step, steps), *needs.values())


def _gates(procedure: Procedure, step: Step, steps: Mapping[str, int]) -> tuple[str, ...]:
    """Return the steps of this job that must be done before: those that are written, or else the one before."""
    if step.needs is not None:
        return tuple(gate for gate in step.needs if gate in steps)
    before = steps.get(step.id, 0) - 1
    return tuple(gate for gate, number in steps.items() if number == before)


def _unknown(procedure: Procedure, state: State, step: Step, steps: Mapping[str, int]) -> tuple[Need, ...]:
    """Return what must be told before it is known whether a gate or hold before ``step`` belongs to the job."""
    asks: dict[str, Need] = {}
    for before in procedure.watched[step.id]:
        if before.id in steps:
            continue
        entry = undetermined(procedure, state, before.when)
        asked_in = procedure.step_of_entry.get(entry.id, step.id) if entry else step.id
        if asked_in != step.id:
            asks[asked_in] = _need(procedure, state, asked_in, steps.get(asked_in, 0))
    return tuple(asks.values())


def current_step(procedure: Procedure, state: State, now: datetime) -> str | None:
    """Return the first step of this job that is not done, or None when all are."""
    return next((s.id for s in applicable(procedure, state) if s.id not in state.done), None)


def _need(procedure: Procedure, state: State, step_id: str, number: int) -> Need:
    title = procedure.step_by_id[step_id].title
    if step_id not in state.done:
        return Need(step_id, f'needs step {number}, "{title}", first')
    return Need(step_id, f'needs step {number}, "{title}", again: what was proved then no longer holds')
