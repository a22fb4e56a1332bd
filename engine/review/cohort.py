"""A cohort: which steps many get wrong, how each reading spreads, what lies far out, was a planted fault found."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from engine.review.likeness import FEWEST, NORMAL_MAD
from engine.review.rig import Rig
from engine.review.row import LogRow
from engine.review.values import Measured

FAR = 3.5
"""From how many standard deviations a reading lies far out [no unit]; Iglewicz and Hoaglin 1993, modified z-score."""

STRIP = 40
"""Signs in a strip [count]."""


@dataclass(frozen=True, slots=True)
class StepTrouble:
    """A step, in how many logs something is wrong at its end [count], and of how many [count]."""

    step: str
    wrong: int
    of: int


@dataclass(frozen=True, slots=True)
class Spread:
    """One reading over a cohort, in its base unit [``unit``].

    ``mad`` is the median absolute deviation. ``known`` is the rig's value, None without one. ``far`` names the logs
    that lie far out, against the rig if it is known and else against the cohort. ``strip`` shows all in characters.
    """

    entry: str
    unit: str
    count: int
    median: float
    mad: float
    low: float
    high: float
    known: float | None
    far: tuple[str, ...]
    strip: str


@dataclass(frozen=True, slots=True)
class PlantedFault:
    """A fault that was planted on the rig, and which logs found it."""

    says: str
    found: tuple[str, ...]
    missed: tuple[str, ...]


def step_troubles(rows: Sequence[LogRow]) -> tuple[StepTrouble, ...]:
    """Return the steps that logs get wrong, the most often wrong first."""
    read = [row for row in rows if row.trusted]
    counted = Counter(step for row in read for step in row.bad_steps)
    return tuple(StepTrouble(step, wrong, len(read)) for step, wrong in counted.most_common())


def spreads(logs: Mapping[str, Sequence[Measured]], rig: Rig | None = None) -> tuple[Spread, ...]:
    """Return how each measured reading spreads over the logs, those with something far out first.

    Args:
        logs: The measured values of each log, all of one procedure.
        rig: What the shared rig is known to have.
    """
    found: dict[str, dict[str, Measured]] = {}
    for name, values in logs.items():
        for value in values:
            found.setdefault(value.entry, {})[name] = value
    told = [
        _spread(entry, by_log, rig) for entry, by_log in found.items() if len(by_log) >= FEWEST or _is_known(rig, entry)
    ]
    return tuple(sorted(told, key=lambda s: (-len(s.far), s.entry)))


def planted(rows: Sequence[LogRow], rig: Rig) -> tuple[PlantedFault, ...]:
    """Return for each planted fault which logs had a finding other than pass in one of its steps."""
    read = [row for row in rows if row.trusted]
    return tuple(
        PlantedFault(
            fault.says,
            tuple(row.name for row in read if set(fault.steps) & set(row.flagged)),
            tuple(row.name for row in read if not set(fault.steps) & set(row.flagged)),
        )
        for fault in rig.planted
    )


def strip(numbers: Sequence[float], low: float, high: float, width: int = STRIP) -> str:
    """Return readings as a strip of characters: ``.`` one, ``:`` two, ``+`` three or four, ``#`` more; ``|`` median.

    Args:
        numbers: The readings, in any one unit.
        low: The left end, in that unit.
        high: The right end, in that unit.
        width: Signs [count].

    Example:
        >>> strip([1, 1, 1, 2, 3], 1, 3, 9)
        '+   .   .'
    """
    if high <= low:
        return "#" if len(numbers) > 4 else "+"
    places = Counter(min(width - 1, max(0, round((n - low) / (high - low) * (width - 1)))) for n in numbers)
    signs = [" .:++"[min(4, places[at])] if places[at] < 5 else "#" for at in range(width)]
    middle = round((median(numbers) - low) / (high - low) * (width - 1))
    if signs[middle] == " ":
        signs[middle] = "|"
    return "".join(signs)


def _spread(entry: str, by_log: Mapping[str, Measured], rig: Rig | None) -> Spread:
    numbers = [value.number for value in by_log.values()]
    middle = median(numbers)
    mad = median(abs(number - middle) for number in numbers)
    known = rig.known.get(entry) if rig else None
    far = {name for name, v in by_log.items() if (known.is_far(v.number) if known else _is_far(v, middle, mad))}
    one = next(iter(by_log.values()))
    low, high = min(numbers), max(numbers)
    return Spread(
        entry, one.unit, len(numbers), middle, mad, low, high, known.value if known else None, tuple(sorted(far)),
        strip(numbers, low, high),
    )  # fmt: skip


def _is_far(value: Measured, middle: float, mad: float) -> bool:
    """Return whether a reading lies far out; less than two digits from the middle is never far."""
    away = abs(value.number - middle)
    return away > FAR * NORMAL_MAD * mad and away >= 2 * value.digit


def _is_known(rig: Rig | None, entry: str) -> bool:
    return rig is not None and entry in rig.known
