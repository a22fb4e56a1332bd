"""A value that hurts is said the moment that it is taken, at whatever step of the job it is judged."""

from collections.abc import Collection, Mapping

from engine.finding import Finding, Value, Verdict
from engine.procedure.model import Procedure, Step
from engine.session.events import Found, Halted
from engine.session.gates import applies
from engine.session.judge import can_hurt, judge
from engine.session.record import as_event
from engine.session.state import State

Hurts = Mapping[str, Mapping[str, Finding]]
"""By step, those of its findings that hurt, by key."""


def hurts(
    procedure: Procedure, state: State, entries: Collection[str], extra: Mapping[str, Value] | None = None
) -> Hurts:
    """Return what hurts by the values as they stand, at each step that judges one of ``entries``, in working order.

    ``extra`` are values that are not recorded yet.
    """
    steps = [s for s in procedure.steps if can_hurt(s) and not procedure.rests_on[s.id].isdisjoint(entries)]
    return {step.id: _hurting(procedure, state, step, extra) for step in steps}


def stop(procedure: Procedure, was: Hurts, state: State) -> tuple[Found, Halted] | None:
    """Return the first that hurts in ``state`` and did not hurt before, and the STOP that it brings; None if none."""
    for name, before in was.items():
        step = procedure.step_by_id[name]
        for key, finding in _hurting(procedure, state, step).items():
            if key not in before or before[key].sentence != finding.sentence:
                halted = Halted(step=name, sentence=finding.sentence, hands=finding.hands)
                return as_event(step, key, finding), halted
    return None


def _hurting(
    procedure: Procedure, state: State, step: Step, extra: Mapping[str, Value] | None = None
) -> dict[str, Finding]:
    if not applies(procedure, state, step):
        return {}
    return {k: f for k, f in judge(procedure, state, step, extra).items() if f.hands and f.verdict is Verdict.FAIL}
