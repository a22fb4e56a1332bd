"""What the checks of measured values share: accuracy of an input, and its uncertainty."""

from collections.abc import Mapping
from functools import cache

from engine.finding import Value
from engine.published.instruments import instrument
from engine.rules.check import Accuracy, Context
from engine.rules.given import labelled
from engine.source import Authority, Seen, Source
from engine.trade.reading import combined, half_width, same_meter_difference, standard, two_meter_difference

GUARD_BAND = Source(Authority.STANDARD, "JCGM 106:2012", "8.3, guard band w = U, k = 2", Seen.QUOTED)
UNCERTAINTY = Source(Authority.STANDARD, "JCGM 100:2008", "4.3.7, 5.1.2", Seen.QUOTED)


def own_rule(place: str) -> Source:
    """Return the source of a figure that this project chose, named by what it limits."""
    return Source(Authority.PROJECT, "this project's own rule", place)


def practice(place: str, seen: Seen = Seen.QUOTED) -> Source:
    """Return the source of a figure that is common practice, named by what it limits."""
    return Source(Authority.PRACTICE, "common practice", place, seen)


def several(given: Mapping[str, Value], name: str) -> tuple[float, ...]:
    """Return an input that takes several numbers without their labels, empty if it was left out."""
    return tuple(number for _, number in labelled(given, name))


def accuracy(name: str, usual: str, context: Context) -> Accuracy:
    """Return how well an input was measured: as the context says, else as its usual instrument can."""
    return context.accuracy.get(name) or _usual(usual)


@cache
def _usual(id: str) -> Accuracy:
    found = instrument(id)
    fixed = found.fixed / found.resolution if found.resolution else 0.0
    return Accuracy(found.percent, found.counts + fixed, found.resolution)


def standard_u(name: str, value: float, usual: str, context: Context) -> float:
    """Return the standard uncertainty of one measured input, in its base unit."""
    known = accuracy(name, usual, context)
    return standard(half_width(value, known.percent, known.counts, known.resolution))


def difference_u(
    names: tuple[str, str], values: tuple[float, float], usual: str, context: Context, *, same_meter: bool
) -> float:
    """Return the standard uncertainty of the difference of two inputs, on one meter or on two."""
    first = accuracy(names[0], usual, context)
    if same_meter:
        return same_meter_difference(*values, first.percent, first.counts, first.resolution)
    second = accuracy(names[1], usual, context)
    if first == second:
        return two_meter_difference(*values, first.percent, first.counts, first.resolution)
    return combined(standard_u(name, value, usual, context) for name, value in zip(names, values, strict=True))
