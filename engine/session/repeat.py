"""Readings that are taken more than once: whether another is wanted, and which value stands for them all."""

from collections.abc import Mapping, Sequence

from engine.procedure.model import Entry
from engine.published.instruments import instrument
from engine.session.state import Given, Instrument
from engine.trade.reading import expanded, half_width, standard

APART_PERCENT = 2.0
"""Readings of one quantity may lie this far apart [%], or twice their uncertainty if that is more; a project rule."""


def turn(entry: Entry, given: Given | None, instruments: Mapping[str, Instrument]) -> int:
    """Return which reading of ``entry`` is wanted now: 1 for the first, 0 if no more are.

    An entry is read as often as its procedure says, and once more if the readings lie too far apart. All are kept; the
    middle one counts (of two, their mean).
    """
    if given is None:
        return 1
    taken = len(given.readings)
    if entry.repeats < 2 or not taken or taken > entry.repeats:
        return 0
    if taken < entry.repeats or _apart(entry, given, instruments):
        return taken + 1
    return 0


def _apart(entry: Entry, given: Given, instruments: Mapping[str, Instrument]) -> bool:
    return max(given.readings) - min(given.readings) > allowed_apart(entry, given.readings, instruments)


def allowed_apart(entry: Entry, readings: Sequence[float], instruments: Mapping[str, Instrument]) -> float:
    """Return how far readings of one entry may lie apart [its base unit].

    Args:
        entry: What was read.
        readings: Its readings [its base unit].
        instruments: The instruments that were declared, by id; one that was not counts as the usual one of its kind.
    """
    largest = max(map(abs, readings))
    return max(2 * _uncertainty(entry, largest, instruments), APART_PERCENT / 100 * largest)


def _uncertainty(entry: Entry, reading: float, instruments: Mapping[str, Instrument]) -> float:
    """Return U of a reading [its base unit]; zero where the procedure names no instrument."""
    if (declared := instruments.get(entry.instrument)) is not None:
        return expanded(standard(half_width(reading, declared.percent, declared.counts, declared.resolution)))
    if not entry.instrument:
        return 0.0
    usual = instrument(entry.instrument)
    return expanded(standard(half_width(reading, usual.percent, usual.counts, usual.resolution) + usual.fixed))
