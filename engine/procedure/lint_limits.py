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
        fields = loaded.steps[step.id]
        for table, limit in zip(fields.tables("limit"), step.limits, strict=False):
            held = limit.expression.over(ranges)
            if held is not None:
                yield table.place.key("is"), _ALWAYS if held else _NEVER
        for table, check in zip(fields.tables("check"), step.checks, strict=False):
            if check.when and (held := check.when.over(ranges)) is not None:
                yield table.place.key("when"), _condition(held=held)
        if step.when and step.when.over(ranges):
            yield fields.place.key("when"), _condition(held=True)
    for entry in loaded.procedure.entry_by_id.values():
        if entry.when and (held := entry.when.over(ranges)) is not None:
            yield loaded.entries[entry.id].place.key("when"), _condition(held=held)


_ALWAYS = "every value in the hard range meets it; tighten the limit or widen the range"
_NEVER = "no value in the hard range can meet it; mend the limit or the range"


def _condition(*, held: bool) -> str:
    return f"this condition {'always' if held else 'never'} holds in the hard ranges; mend it or take it out"


def _span(entry: Entry) -> Span | None:
    if entry.hard is None:
        return None
    return (entry.hard[0], INFINITE) if entry.over_range else entry.hard
