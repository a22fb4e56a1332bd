"""What the checks of measured values share: accuracy of an input, its uncertainty, the worst of several parts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from engine.finding import Value, Verdict
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


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a verdict: what it says, and what to do about it.

    ``at_worst`` says of an undecided part what it can be at worst: a doubt between pass and marginal is no doubt any
    more where another part is marginal for certain.
    """

    verdict: Verdict
    sentence: str
    remedy: str = ""
    firm: bool = False
    at_worst: Verdict = Verdict.FAIL


def worst_part(parts: Sequence[Part]) -> Part:
    """Return the first part of the worst verdict, a certain marginal before a doubt that cannot be worse."""
    worst = parts[0]
    for part in parts[1:]:
        if part.verdict is not worst.verdict and part.verdict.severity > worst.verdict.severity:
            worst = part
    if worst.verdict is not Verdict.UNDECIDED:
        return worst
    doubts = [part for part in parts if part.verdict is Verdict.UNDECIDED]
    if any(part.at_worst is not Verdict.MARGINAL for part in doubts):
        return worst
    return next((part for part in parts if part.verdict is Verdict.MARGINAL), worst)


def at_worst(surely_bearable: Verdict) -> Verdict:
    """Return what a doubt can be at worst: marginal where the bearable limit is surely kept."""
    return Verdict.MARGINAL if surely_bearable is Verdict.PASS else Verdict.FAIL


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
