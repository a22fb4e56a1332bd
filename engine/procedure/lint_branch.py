"""Lint: values that one branch takes and all branches use."""

from collections.abc import Iterator
from itertools import product
from math import prod

from engine.finding import Value
from engine.procedure.faults import Place
from engine.procedure.limit import Expression
from engine.procedure.load import Loaded
from engine.procedure.model import Entry, Procedure, Step
from engine.procedure.model_circuit import PLAN, Reference, StepCheck
from engine.rules.registry import check as named

Found = Iterator[tuple[Place, str]]

MOST_COUNTED = 60
"""The largest count of which each branch is tried (project rule: no count of this house is larger)."""

MOST_WAYS = 10_000
"""Ways to answer that are tried at most for one limit (project rule: past it, the doubt stands)."""


def branch_doubts(loaded: Loaded) -> Found:
    """Give every use of a value that is only taken under a condition, where the use has no condition of its own.

    An input that a check can do without may be left out by a branch; that is no doubt. Nor is a limit that the other
    branch settles by itself: ``fitted == "no" or rating >= 5 A``.
    """
    under = taken_under(loaded)
    for step in loaded.procedure.steps:
        if step.when is None:
            yield from _unsure(loaded, step, under)


def taken_under(loaded: Loaded) -> dict[str, str]:
    """Return the condition under which each entry is taken, of those that have one."""
    return {name: " and ".join(each.text for each in found) for name, found in _conditions(loaded).items()}


def _conditions(loaded: Loaded) -> dict[str, list[Expression]]:
    found: dict[str, list[Expression]] = {}
    for step in loaded.procedure.steps:
        for entry in loaded.procedure.entries_of(step):
            conditions = [each for each in (step.when, entry.when) if each]
            if conditions:
                found[entry.id] = conditions
    return found


def _unsure(loaded: Loaded, step: Step, under: dict[str, str]) -> Found:
    conditions = _conditions(loaded)
    for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
        for name in sorted(limit.expression.names & under.keys()):
            if settled_without(limit.expression, conditions[name], loaded.procedure):
                continue
            yield place, _only_if(name, under)
    for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
        if check.when is None and check.name not in ("", PLAN):
            for name in _required(check, under):
                yield place, _only_if(name, under)


def settled_without(limit: Expression, conditions: list[Expression], procedure: Procedure) -> bool:
    """Return whether a limit can be told wherever one of the conditions does not hold, from what they ask alone.

    Args:
        limit: The limit.
        conditions: The conditions under which a value that it uses is taken.
        procedure: The procedure, for what each entry may be.
    """
    names = sorted(frozenset().union(*(each.names for each in conditions)))
    choices = [_may_be(procedure.entry_by_id[name]) for name in names]
    if prod(len(each) for each in choices) > MOST_WAYS:
        return False
    ways = [dict(zip(names, way, strict=True)) for way in product(*choices)]
    others = [way for way in ways if any(each.holds(way) is False for each in conditions)]
    return bool(others) and all(limit.holds(way) is not None for way in others)


def _may_be(entry: Entry) -> list[Value]:
    """Return the values that an entry may have, of a choice, a yes/no or a count; none of a measured number."""
    if entry.unit == "yes/no":
        return [True, False]
    if entry.unit == "" and entry.hard:
        return [float(count) for count in range(int(entry.hard[0]), min(int(entry.hard[1]), MOST_COUNTED) + 1)]
    return list(entry.choices)


def _required(check: StepCheck, under: dict[str, str]) -> list[str]:
    """Return the first entry of each input that the check cannot do without, if all its entries are conditional."""
    needed = {item.name for item in named(check.name).inputs if item.required}
    ids = [given.ids for name, given in check.inputs.items() if name in needed and isinstance(given, Reference)]
    return [names[0] for names in ids if all(name in under for name in names)]


def _only_if(name: str, under: dict[str, str]) -> str:
    return f"uses {name}, which is only taken if {under[name]}; give this the same condition"
