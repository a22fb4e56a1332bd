"""Readings that were taken again: whether the two agree within what the instrument can tell, and if not, a third."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from engine.procedure.model import Known, Procedure
from engine.quantity import show
from engine.session.apply import instrument_of
from engine.session.events import Corrected, InstrumentDeclared, Redone, Stamped, Taken
from engine.session.repeat import allowed_apart
from engine.session.state import Instrument


def repeat_notes(procedure: Procedure, events: Sequence[Stamped]) -> tuple[str, ...]:
    """Return a note for each measured entry whose readings do not agree; what was corrected or done again begins anew.

    How far two may lie apart is the rule of the session, ``repeat.allowed_apart``; of three readings or more the two
    that lie nearest together count. A note, never a verdict.
    """
    declared: dict[str, Instrument] = {}
    taken: dict[str, list[Taken]] = {}
    corrected = ""
    for item in events:
        event = item.event
        if isinstance(event, InstrumentDeclared):
            declared[event.instrument] = instrument_of(event)
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


def _note(procedure: Procedure, readings: list[Taken], declared: Mapping[str, Instrument]) -> str:
    entry = procedure.entry_by_id.get(readings[-1].entry)
    numbers = sorted(reading.number for reading in readings if reading.number is not None)
    if entry is None:
        return ""
    apart, nearest = min((b - a, (a, b)) for a, b in pairwise(numbers))
    allowed = allowed_apart(entry, nearest, declared)
    if apart <= allowed:
        return ""
    told = ", then ".join(show(r.number, entry.unit, both=False) for r in readings if r.number is not None)
    return f"{entry.ask}: {told}: no two agree within {show(allowed, entry.unit, both=False)}"
