"""Lint: limits that say nothing, because no value that is taken can meet them or every value does."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.limit_range import Span
from engine.procedure.load import Loaded
from engine.procedure.model import Entry

INFINITE = float("inf")


def limit_faults(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every limit, and every condition of an entry or check, that holds always or never."""
    ranges = {entry.id: span for entry in loaded.procedure.entry_by_id.values() if (span := _span(entry))}
    for step in loaded.procedure.steps:
        for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
            held = limit.expression.over(ranges)
            if held is not None:
                yield place, _ALWAYS if held else _NEVER
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.when and (held := check.when.over(ranges)) is not None:
                yield place.key("when"), _condition(held=held)
        if step.when and step.when.over(ranges):
            yield loaded.steps[step.id].key("when"), _condition(held=True)
    for entry in loaded.procedure.entry_by_id.values():
        if entry.when and (held := entry.when.over(ranges)) is not None:
            yield loaded.entries[entry.id].key("when"), _condition(held=held)


_ALWAYS = "every value in the hard range meets it; tighten the limit or widen the range"
_NEVER = "no value in the hard range can meet it; mend the limit or the range"


def _condition(*, held: bool) -> str:
    return f"this condition {'always' if held else 'never'} holds in the hard ranges; mend it or take it out"


def _span(entry: Entry) -> Span | None:
    if entry.hard is None:
        return None
    return (entry.hard[0], INFINITE) if entry.over_range else entry.hard
