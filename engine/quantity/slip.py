"""Asks about an entry outside its usual range that one common slip of the hand would explain. Changes nothing."""

import math
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from engine.quantity.amount import Amount, Kind, Question
from engine.quantity.show import range_words, show
from engine.quantity.units import from_base, kind_of, scale_of, to_base

Range = tuple[float, float]

_SWAPS = (
    ("in", "mm"),
    ("ft", "m"),
    ("mV", "V"),
    ("lbf", "N"),
    ("kgf", "N"),
    ("lbf in", "N m"),
    ("degF", "degC"),
)
"""Units that are taken for each other."""

_NEARLY_THE_SAME = 1.25
"""Two meanings this close in size are one slip with two wordings: ten times and lbf in for N m, or kgf for N."""

_SHIFTS = (Fraction(1, 10), Fraction(10), Fraction(1, 100), Fraction(100), Fraction(1, 1000), Fraction(1000))
"""A decimal mark lost or misplaced, by one to three places."""


def slip(amount: Amount, likely: Range, hard: Range, unit: str, *, sign: bool = True) -> Question | None:
    """Return the question "as typed, or ...?" if exactly one slip brings the entry into its likely range.

    An entry inside the likely range is never questioned. One outside the hard range that no slip explains gives
    ``None`` too: the caller refuses it with the range. Where zero is likely, every number is some slip away from it,
    so that only the sign is asked about, and degF where degC is: a live wire must never be offered as a dead one.

    Args:
        amount: The entry as understood.
        likely: Lowest and highest usual number, in base units.
        hard: Lowest and highest possible number, in base units.
        unit: The unit the entry was asked in, for the sentence.
        sign: Whether a wrong sign is looked for. Not where the sign is what is measured, as with polarity.

    Source:
        Slips looked for: project rule, after the finding that asking about entries out of the usual range halves
        out-by-ten errors (J R Soc Interface 2010, doi 10.1098/rsif.2010.0112, abstract read).

    Example:
        >>> typed = Amount("249", 249.0, Kind.VOLTAGE, "V", step=1.0)
        >>> question = slip(typed, (23, 26), (10, 60), "V")
        >>> question.sentence
        '249 V is outside the usual 23 to 26 V. Did you mean 24.9 V?'
        >>> [words for words, _ in question.choices]
        ['as typed: 249 V, outside 10 to 60 V', '24.9 V']
    """
    if not math.isfinite(amount.number) or _inside(amount.number, likely):
        return None
    meanings = _meanings(amount, zero_likely=_inside(0.0, likely), sign=sign)
    found = [meant for meant in _distinct(meanings) if _inside(meant.number, likely)]
    if not found or max(abs(m.number) for m in found) > _NEARLY_THE_SAME * min(abs(m.number) for m in found):
        return None
    return _question(amount, found, likely, hard, unit)


def _question(amount: Amount, found: list[Amount], likely: Range, hard: Range, unit: str) -> Question:
    typed = show(amount.number, amount.unit, step=amount.step or None, both=False)
    outside = "" if _inside(amount.number, hard) else f", outside {range_words(*hard, unit)}"
    choices = [(_words(meant, unit), meant) for meant in found]
    asked = " or ".join(words for words, _ in choices)
    sentence = f"{typed} is outside the usual {range_words(*likely, unit)}. Did you mean {asked}?"
    return Question(amount.raw, sentence, ((f"as typed: {typed}{outside}", amount), *choices))


def _inside(number: float, limits: Range) -> bool:
    return limits[0] <= number <= limits[1]


def _meanings(amount: Amount, *, zero_likely: bool, sign: bool) -> Iterator[Amount]:
    """Yield what the entry would be after each slip, unit slips first because their wording says more."""
    typed = Fraction(repr(from_base(amount.number, amount.unit)))
    if amount.kind is Kind.TEMPERATURE or not zero_likely:
        yield from _other_units(amount, typed)
    if not zero_likely:
        yield from _shifted(amount, typed)
    if sign and typed:
        yield replace(amount, number=to_base(-typed, amount.unit), signed=True)


def _other_units(amount: Amount, typed: Fraction) -> Iterator[Amount]:
    for pair in _SWAPS:
        if amount.unit in pair:
            yield _in_unit(amount, typed, pair[1 - pair.index(amount.unit)])


def _shifted(amount: Amount, typed: Fraction) -> Iterator[Amount]:
    for shift in _SHIFTS:
        if amount.kind is not Kind.COUNT or (typed * shift).denominator == 1:
            number = to_base(typed * shift, amount.unit)
            yield replace(amount, number=number, step=amount.step * float(shift))


def _in_unit(amount: Amount, typed: Fraction, unit: str) -> Amount:
    step = amount.step * float(scale_of(unit).factor / scale_of(amount.unit).factor)
    return replace(amount, number=to_base(typed, unit), unit=unit, step=step)


def _distinct(meanings: Iterator[Amount]) -> Iterator[Amount]:
    seen: list[float] = []
    for meant in meanings:
        if not any(math.isclose(meant.number, number, rel_tol=1e-9) for number in seen):
            seen.append(meant.number)
            yield meant


def _words(meant: Amount, unit: str) -> str:
    """Return the meaning in the unit it would have been typed in, and in the unit asked for if that is another."""
    own = show(meant.number, meant.unit, step=meant.step or None, both=False)
    if meant.unit == unit or kind_of(unit) is not meant.kind:
        return own
    return f"{own} ({show(meant.number, unit, step=meant.step or None, both=False)})"
