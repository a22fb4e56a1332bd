"""Builds the steps of a procedure from their tables."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.procedure.checks import build_check
from engine.procedure.faults import Place
from engine.procedure.model import Entry, Step, StepLimit
from engine.procedure.rows import build_entry, row_limits
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields


@dataclass(frozen=True, slots=True)
class Built:
    """A step, the facts that are asked in it, and the places of its limits and checks."""

    step: Step
    facts: tuple[Entry, ...]
    limit_places: tuple[Place, ...]
    check_places: tuple[Place, ...]


def entry_rows(step: Fields) -> Iterator[tuple[str, Fields]]:
    """Give the rows of a step that ask something, the facts first, each with its name."""
    yield from step.by_id("fact").items()
    yield from step.by_id("read").items()


def build_step(given: Fields, section: str, scope: Scope) -> Built:
    """Return one step.

    Args:
        given: Its table.
        section: The section in which it stands.
        scope: The entries that it may name.
    """
    facts = tuple(build_entry(name, row, scope, fact=True) for name, row in given.by_id("fact").items())
    readings = tuple(build_entry(name, row, scope, fact=False) for name, row in given.by_id("read").items())
    limits = list(_limits(given, (*facts, *readings), scope))
    checks = [(fields.place, build_check(name, fields, scope)) for name, fields in given.values.get("check", [])]
    makes: tuple[str, ...] = given.values.get("makes", ())
    step: Step = given.make(
        scope,
        works=(*given.values.get("works", ()), *makes),
        proves=(*given.values.get("proves", ()), *makes),
        section=section,
        title=given.said("title"),
        asks=tuple(fact.id for fact in facts),
        readings=readings,
        checks=tuple(check for _, check in checks),
        limits=tuple(limit for _, limit in limits),
    )
    return Built(step, facts, tuple(place for place, _ in limits), tuple(place for place, _ in checks))


def _limits(given: Fields, entries: tuple[Entry, ...], scope: Scope) -> Iterator[tuple[Place, StepLimit]]:
    """Give the limits of a step with their places: those of its rows, then those that are written out."""
    for entry, (_, row) in zip(entries, entry_rows(given), strict=True):
        yield from row_limits(entry, row, scope)
    for fields in given.by_id("limit").values():
        limit: StepLimit = fields.make(scope)
        if limit.expression is not None:
            yield fields.at("is"), limit
