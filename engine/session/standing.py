"""Which of the given values count: only those whose entry belongs to this job, as far as the facts given say so."""

from collections.abc import Mapping

from engine.finding import Value
from engine.procedure.limit import Expression
from engine.procedure.model import Entry, Procedure
from engine.session.state import Counted, State


def standing(procedure: Procedure, state: State) -> Mapping[str, Value]:
    """Return the values that count, by id, in base units.

    A value drops out while the condition of its entry, or of the step that asks it, does not hold: a corrected fact
    takes with it what was only asked because of it. They are worked out once until a value is given or taken away.
    """
    return counted(procedure, state).values


def numbers(procedure: Procedure, state: State) -> Mapping[str, int]:
    """Return the steps of this job by id, in working order, each with its number from 1."""
    return counted(procedure, state).steps


def counted(procedure: Procedure, state: State) -> Counted:
    """Return what follows from the given values, worked out once until one of them moves."""
    kept = state.counted
    if kept is None or kept.procedure is not procedure:
        values = counting(procedure, state.values())
        kept = state.counted = Counted(procedure, values, _numbers(procedure, values))
    return kept


def _numbers(procedure: Procedure, values: Mapping[str, Value]) -> Mapping[str, int]:
    out = (s.id for s in procedure.conditional if s.when is not None and s.when.holds(values) is not True)
    return procedure.numbers(frozenset(out))


def counting(procedure: Procedure, values: Mapping[str, Value]) -> dict[str, Value]:
    """Return those of ``values`` whose entry belongs to the job under these very values."""
    left = dict(values)
    given = left.keys()
    while out := [e for w, e in procedure.asked_under if not given.isdisjoint(e) and w.holds(left) is not True]:
        for entry in frozenset().union(*out) & given:
            del left[entry]
    return left


def conditions(procedure: Procedure, entry: str) -> tuple[Expression, ...]:
    """Return the conditions under which an entry is asked: its own, and that of its step."""
    return procedure.conditions.get(entry, ())


def missing(
    procedure: Procedure, values: Mapping[str, Value], absent: frozenset[str], names: frozenset[str]
) -> Entry | None:
    """Return the first of ``names`` that is still to be given, or None if all are settled.

    An entry is settled if it was given, was said to be not measured, or can no longer come to be asked.
    """
    unsettled = [name for name in names if name not in values and name not in absent]
    for name in sorted(unsettled, key=list(procedure.entry_by_id).index) if len(unsettled) > 1 else unsettled:
        lacking = _lacking(procedure, values, absent, name)
        if lacking is not None:
            return lacking
    return None


def _lacking(procedure: Procedure, values: Mapping[str, Value], absent: frozenset[str], name: str) -> Entry | None:
    for when in conditions(procedure, name):
        holds = when.holds(values)
        if holds is False:
            return None
        if holds is None:
            return missing(procedure, values, absent, when.names - {name})
    return procedure.entry_by_id[name]


def undetermined(procedure: Procedure, state: State, when: Expression | None) -> Entry | None:
    """Return the entry that must be given before it is known whether ``when`` holds, or None if it is known."""
    values = standing(procedure, state)
    if when is None or when.holds(values) is not None:
        return None
    return missing(procedure, values, frozenset(state.absent), when.names)
