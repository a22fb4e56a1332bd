"""Readings that were taken again: whether the two agree within what the instrument can tell, and if not, a third."""

from collections.abc import Sequence
from itertools import pairwise

from engine.procedure.model import Known, Procedure
from engine.published.instruments import instrument, instrument_ids
from engine.quantity import show
from engine.session.events import Corrected, InstrumentDeclared, Redone, Stamped, Taken
from engine.trade.reading import half_width, standard

AGREE = 0.02
"""Share within which two readings of one thing agree [no unit], or twice the uncertainty if more; a project rule."""


def repeat_notes(procedure: Procedure, events: Sequence[Stamped]) -> tuple[str, ...]:
    """Return a note for each measured entry whose readings do not agree; what was corrected or done again begins anew.

    Of three readings or more the two that lie nearest together count. A note, never a verdict.
    """
    declared: dict[str, InstrumentDeclared] = {}
    taken: dict[str, list[Taken]] = {}
    corrected = ""
    for item in events:
        event = item.event
        if isinstance(event, InstrumentDeclared):
            declared[event.instrument] = event
        elif isinstance(event, Redone):
            taken = {entry: found for entry, found in taken.items() if found[-1].step not in event.voided}
        elif isinstance(event, Corrected):
            corrected = event.entry
        elif isinstance(event, Taken) and event.known == Known.MEASURED and event.number is not None:
            if event.entry == corrected:
                taken.pop(event.entry, None)
            taken.setdefault(event.entry, []).append(event)
            corrected = ""
    notes = (_note(procedure, readings, declared) for readings in taken.values() if len(readings) > 1)
    return tuple(note for note in notes if note)


def _note(procedure: Procedure, readings: list[Taken], declared: dict[str, InstrumentDeclared]) -> str:
    numbers = sorted(reading.number for reading in readings if reading.number is not None)
    apart, high = min((b - a, b) for a, b in pairwise(numbers))
    entry = procedure.entry_by_id.get(readings[-1].entry)
    if entry is None:
        return ""
    allowed = max(AGREE * abs(high), 2 * _uncertainty(entry.instrument, high, declared))
    if apart <= allowed:
        return ""
    told = ", then ".join(show(r.number, entry.unit, both=False) for r in readings if r.number is not None)
    return f"{entry.ask}: {told}: no two agree within {show(allowed, entry.unit, both=False)}"


def _uncertainty(name: str, number: float, declared: dict[str, InstrumentDeclared]) -> float:
    """Return U = 2u of a reading [its unit]; zero for an instrument that nothing is known of."""
    if name in declared:
        own = declared[name]
        return 2 * standard(half_width(abs(number), own.percent, own.counts, own.resolution))
    if name not in instrument_ids():
        return 0.0
    usual = instrument(name)
    return 2 * standard(half_width(abs(number), usual.percent, usual.counts, usual.resolution))
