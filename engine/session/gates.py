"""Which steps apply, which are shut and why, and which one comes next: done, and still valid."""

from dataclasses import dataclass
from datetime import datetime

from engine.procedure.model import Entry, Hold, Procedure, Step
from engine.session.state import State


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that keeps a step shut, said in a sentence, with the step to go to."""

    step: str
    sentence: str


def applies(step: Step, state: State) -> bool:
    """Return whether a step belongs to this job (its condition holds)."""
    return step.when is None or step.when.holds(state.values()) is True


def applicable(procedure: Procedure, state: State) -> tuple[Step, ...]:
    """Return the steps of this job, in working order."""
    values = state.values()
    return tuple(s for s in procedure.steps if s.when is None or s.when.holds(values) is True)


def entries(procedure: Procedure, state: State, step: Step) -> tuple[Entry, ...]:
    """Return the facts and readings that this step asks for in this job, in order."""
    values = state.values()
    asked = [procedure.entry_by_id[fact] for fact in step.asks]
    return tuple(e for e in (*asked, *step.readings) if e.when is None or e.when.holds(values) is True)


def open_entries(procedure: Procedure, state: State, step: Step) -> tuple[Entry, ...]:
    """Return the entries of a step that were neither given nor said to be not measured."""
    return tuple(e for e in entries(procedure, state, step) if e.id not in state.given and e.id not in state.absent)


def stands(procedure: Procedure, state: State, step_id: str, now: datetime) -> bool:
    """Return whether a step was done and its evidence still holds at ``now``.

    Evidence with an age limit does not hold if the clock stands earlier than when it was taken: it cannot be trusted.
    """
    done = state.done.get(step_id)
    if done is None or done.ended:
        return False
    return fresh(procedure.step_by_id[step_id], state, now, done.at)


def fresh(step: Step, state: State, now: datetime, since: str = "") -> bool:
    """Return whether the readings of a step are young enough; the oldest counts, ``since`` if there is none."""
    if step.lasts_s is None:
        return True
    taken = [given.at for given in state.given.values() if given.taken.step == step.id] or [since or state.last_at]
    age_s = (now - datetime.fromisoformat(min(taken))).total_seconds()
    return 0 <= age_s <= step.lasts_s


def shut(procedure: Procedure, state: State, step: Step, now: datetime) -> tuple[Need, ...]:
    """Return what keeps a step shut: gates not done or no longer valid, and any hold before it that was not cleared."""
    steps = {s.id: n for n, s in enumerate(applicable(procedure, state), start=1)}
    needs = [
        _need(procedure, state, gate, steps[gate])
        for gate in step.needs
        if gate in steps and not stands(procedure, state, gate, now)
    ]
    named = {need.step for need in needs}
    before = [s for s in procedure.steps if s.id in steps and steps[s.id] < steps.get(step.id, 0)]
    holds = [s for s in before if s.hold is not Hold.NONE and s.id not in state.done and s.id not in named]
    return (*needs, *(_need(procedure, state, s.id, steps[s.id]) for s in holds))


def current_step(procedure: Procedure, state: State, now: datetime) -> str | None:
    """Return the first step of this job that is not done, or None when all are."""
    return next((s.id for s in applicable(procedure, state) if s.id not in state.done), None)


def _need(procedure: Procedure, state: State, step_id: str, number: int) -> Need:
    title = procedure.step_by_id[step_id].title
    if step_id not in state.done:
        return Need(step_id, f'needs step {number}, "{title}", first')
    return Need(step_id, f'needs step {number}, "{title}", again: what was proved then no longer holds')
