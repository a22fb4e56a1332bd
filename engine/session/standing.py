"""Which of the given values count: only those whose entry belongs to this job, as far as the facts given say so."""

from engine.finding import Value
from engine.procedure.limit import Expression
from engine.procedure.model import Entry, Procedure
from engine.session.state import State


def standing(procedure: Procedure, state: State) -> dict[str, Value]:
    """Return the values that count, by id, in base units.

    A value drops out while the condition of its entry, or of the step that asks it, does not hold: a corrected fact
    takes with it what was only asked because of it.
    """
    return counting(procedure, state.values())


def counting(procedure: Procedure, values: dict[str, Value]) -> dict[str, Value]:
    """Return those of ``values`` whose entry belongs to the job under these very values."""
    under = [(entry, whens) for entry, whens in procedure.conditions.items() if entry in values]
    left = dict(values)
    while gone := [e for e, whens in under if e in left and any(w.holds(left) is not True for w in whens)]:
        for entry in gone:
            del left[entry]
    return left


def conditions(procedure: Procedure, entry: str) -> tuple[Expression, ...]:
    """Return the conditions under which an entry is asked: its own, and that of its step."""
    return procedure.conditions.get(entry, ())


def missing(
    procedure: Procedure, values: dict[str, Value], absent: frozenset[str], names: frozenset[str]
) -> Entry | None:
    """Return the first of ``names`` that is still to be given, or None if all are settled.

    An entry is settled if it was given, was said to be not measured, or can no longer come to be asked.
    """
    for name in sorted(names, key=list(procedure.entry_by_id).index):
        if name in values or name in absent:
            continue
        lacking = _lacking(procedure, values, absent, name)
        if lacking is not None:
            return lacking
    return None


def _lacking(procedure: Procedure, values: dict[str, Value], absent: frozenset[str], name: str) -> Entry | None:
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
