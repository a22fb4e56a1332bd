"""Lint: values that one branch takes and all branches use."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Reference, Step, StepCheck
from engine.procedure.tables import PLAN
from engine.rules.registry import check as named

Found = Iterator[tuple[Place, str]]


def branch_doubts(loaded: Loaded) -> Found:
    """Give every use of a value that is only taken under a condition, where the use has no condition of its own.

    An input that a check can do without may be left out by a branch; that is no doubt.
    """
    under = taken_under(loaded)
    for step in loaded.procedure.steps:
        if step.when is None:
            yield from _unsure(loaded, step, under)


def taken_under(loaded: Loaded) -> dict[str, str]:
    """Return the condition under which each entry is taken, of those that have one."""
    found: dict[str, str] = {}
    for step in loaded.procedure.steps:
        facts = [loaded.procedure.entry_by_id[name] for name in step.asks if name in loaded.procedure.entry_by_id]
        for entry in (*facts, *step.readings):
            conditions = [each.text for each in (step.when, entry.when) if each]
            if conditions:
                found[entry.id] = " and ".join(conditions)
    return found


def _unsure(loaded: Loaded, step: Step, under: dict[str, str]) -> Found:
    fields = loaded.steps[step.id]
    for table, limit in zip(fields.tables("limit"), step.limits, strict=False):
        for name in sorted(limit.expression.names & under.keys()):
            yield table.place.key("is"), _only_if(name, under)
    for table, check in zip(fields.tables("check"), step.checks, strict=False):
        if check.when is None and check.name not in ("", PLAN):
            for name in _required(check, under):
                yield table.place.key("with"), _only_if(name, under)


def _required(check: StepCheck, under: dict[str, str]) -> list[str]:
    """Return the first entry of each input that the check cannot do without, if all its entries are conditional."""
    needed = {item.name for item in named(check.name).inputs if item.required}
    ids = [given.ids for name, given in check.inputs.items() if name in needed and isinstance(given, Reference)]
    return [names[0] for names in ids if all(name in under for name in names)]


def _only_if(name: str, under: dict[str, str]) -> str:
    return f"uses {name}, which is only taken if {under[name]}; give this the same condition"
