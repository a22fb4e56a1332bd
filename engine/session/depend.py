"""What rests on a value: the steps that must be ended again when it changes, and nothing else."""

from collections.abc import Iterable, Mapping

from engine.finding import Value
from engine.procedure.limit import Expression
from engine.procedure.model import Procedure, Step
from engine.session.judge import uses
from engine.session.standing import counting, standing
from engine.session.state import State


def rejudged_by_value(procedure: Procedure, state: State, entry: str, value: Value) -> list[str]:
    """Return the steps to end again when ``entry`` is corrected to ``value``, in working order."""
    before = standing(procedure, state)
    after = counting(procedure, state.values() | {entry: value})
    rejudged = set(_rejudged(procedure, state, before, after, {entry}, ()))
    own = procedure.step_of_entry[entry]
    if procedure.entry_by_id[entry].repeats > 1 and own in state.done:
        rejudged.add(own)  # another reading may be wanted now
    return [s.id for s in procedure.steps if s.id in rejudged]


def rejudged_by_loss(procedure: Procedure, state: State, voided: Iterable[str]) -> list[str]:
    """Return the steps to end again when the readings of the ``voided`` steps go, in working order."""
    gone = set(voided)
    before = standing(procedure, state)
    kept = {e: v for e, v in state.values().items() if state.given[e].taken.step not in gone}
    lost = {entry for entry, step in state.absent_in.items() if step in gone}
    return _rejudged(procedure, state, before, counting(procedure, kept), lost, gone)


def relying(procedure: Procedure, state: State, entry: str) -> Step | None:
    """Return the first other step that was settled with ``entry`` as it stands, or None."""
    own = procedure.step_of_entry[entry]
    settled = {key[0] for key, found in state.findings.items() if found.accepted or found.deviation}
    for step in procedure.steps:
        if step.id != own and (step.id in state.done or step.id in settled) and uses(procedure, step, entry):
            return step
    return None


def _rejudged(
    procedure: Procedure,
    state: State,
    before: Mapping[str, Value],
    after: Mapping[str, Value],
    changed: set[str],
    gone: Iterable[str],
) -> list[str]:
    changed = changed | (before.keys() ^ after.keys()) | _turned(procedure, before, after)
    judged = {step for step, _ in state.findings}
    return [
        s.id
        for s in procedure.steps
        if s.id not in gone
        and (s.id in state.done or s.id in judged)
        and (not changed.isdisjoint(procedure.rests_on[s.id]) or _turns(procedure, s, before, after))
    ]


def _turned(procedure: Procedure, before: Mapping[str, Value], after: Mapping[str, Value]) -> set[str]:
    """Return the entries that come to be asked, or not to be, or of which that is not known for now."""
    turned = (entries for when, entries in procedure.asked_under if when.holds(before) != when.holds(after))
    return {entry for entries in turned for entry in entries}


def _turns(procedure: Procedure, step: Step, before: Mapping[str, Value], after: Mapping[str, Value]) -> bool:
    """True if what the step asks or is judged by is not the same any more, or not known for now."""
    whens: list[Expression | None] = [check.when for check in step.checks]
    whens += [entry.when for entry in procedure.entries_of(step)]
    return any(w is not None and w.holds(before) != w.holds(after) for w in whens)
