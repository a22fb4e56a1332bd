"""Lint: values that one branch takes and another uses, and values that nobody takes where they are wanted."""

from collections.abc import Iterator, Mapping, Sequence

from engine.finding import Value
from engine.procedure.faults import Place
from engine.procedure.jobs import TooManyJobs, ways
from engine.procedure.limit import Expression
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.model_circuit import PLAN, Reference
from engine.rules.registry import check as named

Found = Iterator[tuple[Place, str]]
Ways = Sequence[Mapping[str, Value]]


def branch_faults(loaded: Loaded) -> Found:
    """Give every value that is asked in no job, and every use of one that is taken in no job in which it is used."""
    never = {name for name, conditions in loaded.procedure.conditions.items() if _here(loaded, name, conditions) == []}
    for name in sorted(never):
        if len(loaded.procedure.conditions[name]) > 1:
            yield loaded.entries[name].key("when"), "is asked in no job: its condition and that of its step never meet"
    for step in loaded.procedure.steps:
        for place, names, context, _ in _uses(loaded, step):
            for name in sorted(names - never):
                here = _here(loaded, name, context)
                if here and not any(_asked(loaded, name, way) for way in here):
                    yield place, f"uses {name}, which is taken in no job that comes here; turn one of the conditions"


def branch_doubts(loaded: Loaded) -> Found:
    """Give every use of a value that is only taken under a condition, where the use has no condition of its own.

    An input that a check can do without may be left out by a branch; that is no doubt. Nor is a limit that the other
    branch settles by itself: ``fitted == "no" or rating >= 5 A``.
    """
    for step in loaded.procedure.steps:
        for place, names, context, limit in _uses(loaded, step) if step.when is None else ():
            for name in (sorted(names) if limit else _required(loaded, names, place, step)) if not context else ():
                here = _here(loaded, name, context)
                without = here and [way for way in here if not _asked(loaded, name, way)]
                settled = limit and without and all(limit.holds(way) is not None for way in without)
                if (here is None or without) and not settled:
                    under = " and ".join(when.text for when in loaded.procedure.conditions[name])
                    yield place, f"uses {name}, which is only taken if {under}; give this the same condition"


def _uses(
    loaded: Loaded, step: Step
) -> Iterator[tuple[Place, frozenset[str], tuple[Expression, ...], Expression | None]]:
    """Give each use of a step: where, which values, under which conditions, and the limit if it is one."""
    own = (step.when,) if step.when else ()
    for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
        yield place, limit.expression.names, own, limit.expression
    for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
        if check.name != PLAN:
            yield place, check.entries, (*own, check.when) if check.when else own, None


def _here(loaded: Loaded, name: str, context: Sequence[Expression]) -> Ways | None:
    """Return the ways to answer that come to a use, () of a value that is always taken, None if there are too many."""
    conditions = loaded.procedure.conditions.get(name, ())
    if not conditions:
        return ()
    try:
        found = ways(loaded.procedure, (*conditions, *context))
    except TooManyJobs:
        return None
    return [way for way in found if all(when.holds(way) for when in context)]


def _asked(loaded: Loaded, name: str, way: Mapping[str, Value]) -> bool:
    return all(when.holds(way) for when in loaded.procedure.conditions[name])


def _required(loaded: Loaded, names: frozenset[str], place: Place, step: Step) -> list[str]:
    """Return the first entry of each input that the check cannot do without, if all its entries are conditional."""
    check = step.checks[loaded.checks[step.id].index(place)]
    needed = {item.name for item in named(check.name).inputs if item.required}
    ids = [given.ids for name, given in check.inputs.items() if name in needed and isinstance(given, Reference)]
    return [each[0] for each in ids if all(name in loaded.procedure.conditions for name in each)]
