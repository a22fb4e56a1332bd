"""The measured values of a log in short, as cohort, likeness and history compare them."""

from dataclasses import dataclass
from math import isfinite

from engine.procedure.model import Known
from engine.review.audit import Audit


@dataclass(frozen=True, slots=True)
class Measured:
    """One measured number in its base unit [``unit``]; ``digit`` is one last typed digit in base units."""

    entry: str
    number: float
    digit: float
    unit: str
    at: str = ""


MOST_DIGITS = 1e15
"""Last digits in one number [count]: more than a float tells apart, and far more than any instrument shows."""


def measured(audit: Audit) -> tuple[Measured, ...]:
    """Return the measured numbers of a log that stand at its end.

    Over range, labels and words are left out, and numbers that no instrument could have shown.
    """
    if audit.replay is None:
        return ()
    return tuple(
        Measured(entry, given.taken.number, given.taken.digit, given.taken.unit, given.at)
        for entry, given in audit.state.given.items()
        if given.taken.number is not None
        and not given.taken.over
        and given.taken.known == Known.MEASURED
        and _is_shown(given.taken.number, given.taken.digit)
    )


def _is_shown(number: float, digit: float) -> bool:
    return isfinite(number) and isfinite(digit) and abs(number) <= MOST_DIGITS * (digit or 1)
