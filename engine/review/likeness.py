"""Which two logs are equal beyond chance: the exact chance that two honest logs show as many equal readings."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import median

from engine.review.values import Measured

FALSE_ALARMS = 0.01
"""False alarms over all pairs of one cohort [no unit]: the chance that any honest pair is named. A project rule."""

NORMAL_MAD = 1.4826
"""Standard deviation over median absolute deviation of a normal spread [no unit]: 1 / 0.67449."""

FEWEST = 5
"""Fewest values of an entry from which its spread is told [count]; a project rule."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Two logs that are equal beyond chance. ``tail`` is the chance [no unit] of as many equal readings or more."""

    one: str
    other: str
    equal: tuple[str, ...]
    comparable: int
    tail: float
    threshold: float


def likeness(logs: Mapping[str, Sequence[Measured]], false_alarms: float = FALSE_ALARMS) -> tuple[Alike, ...]:
    """Return the pairs of a cohort that are equal beyond chance, the rarest first.

    Args:
        logs: The measured values of each log, all of one procedure.
        false_alarms: The chance that any honest pair at all is named [no unit].

    Returns:
        The pairs. Nothing is named in a cohort too small to tell its spread.

    Source:
        The chance of equal digits of one entry is r / (2 s sqrt(pi)), the density of the difference of two normal
        readings at zero times one digit; never less than the share of equal pairs in the cohort itself. Over all
        entries: the upper tail of the Poisson binomial distribution, exactly. Bonferroni's inequality for the pairs.
    """
    names = sorted(logs)
    pairs = len(names) * (len(names) - 1) // 2
    if not pairs:
        return ()
    threshold = false_alarms / pairs
    fields = _fields([logs[name] for name in names])
    found = [_judged(names[a], names[b], fields, a, b, threshold) for a, b in _candidates(fields, -math.log(threshold))]
    return tuple(sorted((alike for alike in found if alike is not None), key=lambda x: (x.tail, x.one, x.other)))


def tail(chances: Sequence[float], equal: int) -> float:
    """Return the chance that at least ``equal`` of independent events happen, each with its own chance.

    Args:
        chances: The chance of each event [no unit].
        equal: How many [count].

    Returns:
        The chance [no unit].

    Source:
        The Poisson binomial distribution, by adding one event after the other; only terms are added, so that small
        chances keep their digits.

    Example:
        >>> round(tail([0.05] * 12, 4), 4)
        0.0022
    """
    if equal <= 0:
        return 1.0
    below, reached = [1.0] + [0.0] * (equal - 1), 0.0
    for chance in chances:
        reached += below[-1] * chance
        for count in range(equal - 1, 0, -1):
            below[count] += chance * (below[count - 1] - below[count])
        below[0] *= 1 - chance
    return min(1.0, reached)


@dataclass(frozen=True, slots=True)
class _Field:
    """One entry over the cohort: the digits that each log shows (by the log's place), and the chance of equal ones."""

    entry: str
    shows: Mapping[int, int]
    chance: float


def _fields(logs: Sequence[Sequence[Measured]]) -> tuple[_Field, ...]:
    values: dict[str, dict[int, Measured]] = defaultdict(dict)
    for place, log in enumerate(logs):
        for value in log:
            if value.digit > 0:
                values[value.entry][place] = value
    return tuple(_field(entry, found) for entry, found in values.items() if len(found) >= FEWEST)


def _field(entry: str, found: Mapping[int, Measured]) -> _Field:
    digit = Counter(value.digit for value in found.values()).most_common(1)[0][0]
    shows = {place: round(value.number / digit) for place, value in found.items()}
    return _Field(entry, shows, equal_chance([value.number for value in found.values()], list(shows.values()), digit))


def equal_chance(numbers: Sequence[float], shows: Sequence[int], digit: float) -> float:
    """Return the chance that two honest readings of one entry show the same digits [no unit].

    Args:
        numbers: The readings of the cohort, in any one unit.
        shows: The same in whole digits.
        digit: One last digit, in that unit.

    Example:
        >>> equal_chance([1.0] * 6, [100] * 6, 0.01)
        1.0
    """
    middle = median(numbers)
    spread = NORMAL_MAD * median(abs(number - middle) for number in numbers)
    count = len(shows)
    same = sum(n * (n - 1) for n in Counter(shows).values()) / (count * (count - 1))
    by_spread = digit / (2 * spread * math.sqrt(math.pi)) if spread > 0 else 1.0
    return min(1.0, max(by_spread, same))


def _candidates(fields: Sequence[_Field], needed: float) -> list[tuple[int, int]]:
    """Return the pairs that can be rare enough: the equal readings together must be.

    The tail is never less than the product of the chances of what is equal. So only pairs whose surprises (the negative
    logarithms) add up to ``needed`` can be named; common entries are bounded by their sum instead of being counted.
    """
    common, rare = 0.0, list[_Field]()
    for field in sorted(fields, key=lambda f: -f.chance):
        surprise = -math.log(field.chance)
        if not rare and common + surprise <= needed / 2:
            common += surprise
        else:
            rare.append(field)
    return list(_rare_pairs([_grouped(field) for field in rare], needed - common))


@dataclass(frozen=True, slots=True)
class _Grouped:
    """One entry: its surprise, the logs that show the same digits together, and each log's group and place in it."""

    surprise: float
    groups: Mapping[int, Sequence[int]]
    place: Mapping[int, tuple[int, int]]


def _grouped(field: _Field) -> _Grouped:
    groups: dict[int, list[int]] = defaultdict(list)
    for log in sorted(field.shows):
        groups[field.shows[log]].append(log)
    place = {log: (shown, at) for shown, group in groups.items() for at, log in enumerate(group)}
    return _Grouped(-math.log(field.chance), groups, place)


def _rare_pairs(fields: Sequence[_Grouped], needed: float) -> Iterator[tuple[int, int]]:
    """Yield the pairs whose surprises reach ``needed``, log by log, so that memory stays flat."""
    for log in sorted({log for field in fields for log in field.place}):
        sums: dict[int, float] = {}
        for field in fields:
            shown, at = field.place.get(log, (0, -1))
            for other in field.groups[shown][at + 1 :] if at >= 0 else ():
                sums[other] = sums.get(other, 0.0) + field.surprise
        yield from ((log, other) for other, total in sums.items() if total >= needed)


def _judged(one: str, other: str, fields: Sequence[_Field], a: int, b: int, threshold: float) -> Alike | None:
    both = [field for field in fields if a in field.shows and b in field.shows]
    equal = [field for field in both if field.shows[a] == field.shows[b]]
    chance = _cached_tail(tuple(sorted(field.chance for field in both)), len(equal))
    if chance > threshold:
        return None
    return Alike(one, other, tuple(field.entry for field in equal), len(both), chance, threshold)


@lru_cache(maxsize=4096)
def _cached_tail(chances: tuple[float, ...], equal: int) -> float:
    return tail(chances, equal)
