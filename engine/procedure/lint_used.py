"""Lint: what is asked and used by nothing."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Procedure
from engine.procedure.model_circuit import operand_ids
from engine.procedure.offer import gaps

Found = Iterator[tuple[Place, str]]


def unused_entries(loaded: Loaded) -> Found:
    """Give every fact and reading but words that no check, limit, condition or part of the circuit uses.

    An answer that is only written down, on a label, is used; a number that is only written down is judged by nothing.
    """
    used = _used(loaded.procedure)
    offered = {name for entry in loaded.procedure.entry_by_id.values() for name in gaps(entry.offers)}
    for entry in loaded.procedure.entry_by_id.values():
        written = entry.unit in ("choice", "yes/no") and entry.id in offered
        if entry.id not in used and entry.unit != "words" and not written:
            yield (
                loaded.entries[entry.id],
                "nothing uses it: no check, limit, condition, circuit or offer; judge it, or ask for less",
            )


def _used(procedure: Procedure) -> frozenset[str]:
    found = [procedure.plan_entries, procedure.built_entries]
    found += [part.when.names for part in procedure.circuit if part.when]
    found += [when.names for whens in procedure.conditions.values() for when in whens]
    for step in procedure.steps:
        found += [step.when.names] if step.when else []
        found += [limit.expression.names for limit in step.limits]
        for check in step.checks:
            found += [operand_ids(check.inputs.values()), check.when.names if check.when else frozenset()]
    return frozenset().union(*found)
