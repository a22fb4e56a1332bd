"""Shows a number in the reader's unit, with the other system in brackets, to what the instrument can tell."""

import math

from engine.quantity.amount import Kind
from engine.quantity.inches import feet_shown, inches_shown
from engine.quantity.units import from_base, kind_of, scale_of

_OTHER = {
    "m": "ft", "mm": "in", "cm": "in", "ft": "m", "in": "mm",
    "N m": "lbf in", "cN m": "lbf in", "kgf cm": "lbf in", "lbf in": "N m", "lbf ft": "N m", "ozf in": "cN m",
    "N": "lbf", "kgf": "N", "lbf": "N", "ozf": "N",
    "degC": "degF", "degF": "degC", "K": "degF diff", "degF diff": "K",
}  # fmt: skip
"""The unit of the other system that stands in brackets; electrical units have none."""

_DECIMALS = {
    "V": 2, "mV": 1, "A": 1, "ohm": 2, "mohm": 2, "kohm": 2, "Mohm": 2, "m": 2, "mm": 1, "cm": 1,
    "N m": 1, "kgf cm": 1, "lbf ft": 1, "kgf": 1, "degC": 1, "K": 1, "min": 1, "h": 1, "kW": 2, "%": 1,
}  # fmt: skip
"""Decimals where no instrument is named, 0 for the others (project rule: one digit of the usual instrument)."""

_STEP_OF_TAPE_IN = {"ft": 1.0, "in": 1 / 64}
"""One part of a tape where no instrument is named [in] (project rule)."""

_FIGURES = {"mm2": 3}
"""Figures that a small number keeps where no instrument is named, two for the others (wire tables print three)."""

_MOST_DECIMALS = 9


def show(number_base: float, unit: str, *, step: float | None = None, both: bool = True, sign: bool = False) -> str:
    """Return a number in a unit as people read it, the other system in brackets.

    Args:
        number_base: The number in the base unit of the kind of ``unit``; infinity is shown as ``OL``.
        unit: The unit of ours in which to show it.
        step: The smallest difference that the reading can tell, in base units; the usual instrument's if not given.
        both: Whether the other system follows in brackets, where there is one.
        sign: Whether a plus is shown too.

    Raises:
        UnknownUnit: if ``unit`` is none of ours.

    Example:
        >>> show(4.572, "m"), show(0.013, "mm"), show(12.9, "N m"), show(21, "degC")
        ('4.57 m (15 ft 0 in)', '13.0 mm (33/64 in)', '12.9 N m (114 lbf in)', '21.0 degC (70 degF)')
        >>> show(24.9, "V", step=0.01, sign=True)
        '+24.90 V'
    """
    kind_of(unit)
    if not math.isfinite(number_base):
        return _without_number(number_base)
    number = from_base(number_base, unit)
    fine = _default_step(number, unit) if step is None or step <= 0 else step / float(scale_of(unit).factor)
    main = _main(number, unit, fine)
    plus = "+" if sign and number > 0 and not main.startswith("-") else ""
    other = _OTHER.get(unit) if both else None
    if other is None:
        return plus + main
    fine_other = fine * float(scale_of(unit).factor / scale_of(other).factor)
    return f"{plus}{main} ({_bracket(from_base(number_base, other), other, fine_other)})"


def range_words(low_base: float, high_base: float, unit: str) -> str:
    """Return a range as people say it.

    Args:
        low_base: Least value, in the base unit of the kind of ``unit``; minus infinity for none.
        high_base: Largest value, in the same; infinity for none.
        unit: The unit of ours in which to say it.

    Raises:
        UnknownUnit: if ``unit`` is none of ours.

    Example:
        >>> range_words(5, 120, "A"), range_words(0.02, 0.12, "mm"), range_words(5, float("inf"), "A")
        ('5 to 120 A', '20 to 120 mm', 'at least 5 A')
        >>> range_words(1e5, 1e8, "ohm")
        '0.1 to 100 Mohm'
    """
    unit = _larger(unit, low_base, high_base)
    low, high = _short(from_base(low_base, unit)), _short(from_base(high_base, unit))
    if math.isinf(low_base) or math.isinf(high_base):
        words = f"at least {low}" if math.isinf(high_base) else f"at most {high}"
        return f"{words} {unit}".rstrip()
    return f"{low} {unit}".rstrip() if low == high else f"{low} to {high} {unit}".rstrip()


_LARGER = {"ohm": "Mohm", "mA": "A", "mV": "V"}
"""The unit in which a range of many thousands is said."""

_MANY = 10_000.0
"""From this many of its unit a range is said in the larger one (project rule: four figures are read at a glance)."""


def _larger(unit: str, low_base: float, high_base: float) -> str:
    """Return the larger unit where both ends of a range are many of the unit, else the unit."""
    ends = [abs(from_base(end, unit)) for end in (low_base, high_base) if math.isfinite(end)]
    return _LARGER[unit] if unit in _LARGER and ends and min(ends) >= _MANY else unit


def _without_number(number: float) -> str:
    if math.isnan(number):
        return "no number"
    return "OL" if number > 0 else "-OL"


def _default_step(number: float, unit: str) -> float:
    """Return one last digit where no instrument is named: the usual one, and enough figures of small numbers."""
    if unit in _STEP_OF_TAPE_IN:
        return _STEP_OF_TAPE_IN[unit] / (12 if unit == "ft" else 1)
    decimals = _DECIMALS.get(unit, 0)
    if number and kind_of(unit) is not Kind.TEMPERATURE and not (unit == "" and number.is_integer()):
        decimals = max(decimals, _FIGURES.get(unit, 2) - 1 - math.floor(math.log10(abs(number))))
    return float(10.0 ** -min(decimals, _MOST_DECIMALS))


def _main(number: float, unit: str, step: float) -> str:
    if unit in _STEP_OF_TAPE_IN and not _power_of_ten(step):
        return _tape(number, unit, step)
    return _decimal(number, unit, math.ceil(-math.log10(step) - 0.1))


def _bracket(number: float, unit: str, step: float) -> str:
    if unit in _STEP_OF_TAPE_IN:
        return _tape(number, unit, step)
    return _decimal(number, unit, _honest_decimals(step, unit))


def _honest_decimals(step: float, unit: str) -> int:
    """Return the decimals of a converted number that say no more than its step.

    A last digit of 0.6 steps is still shown; of a length, where tenths of a metre are too coarse, one of 0.32 steps.
    """
    exact = -math.log10(step)
    return round(exact) if kind_of(unit) is Kind.LENGTH else math.floor(exact + 0.22)


def _tape(number: float, unit: str, step: float) -> str:
    return feet_shown(number * 12, step * 12) if unit == "ft" else inches_shown(number, step)


def _decimal(number: float, unit: str, decimals: int) -> str:
    digits = f"{number:.{min(max(decimals, 0), _MOST_DECIMALS)}f}"
    if not digits.strip("-0."):
        digits = digits.lstrip("-")
    return f"{digits} {unit}".rstrip()


def _power_of_ten(step: float) -> bool:
    exponent = math.log10(step)
    return abs(exponent - round(exponent)) < 1e-6


def _short(number: float) -> str:
    """Return a number in at most four figures, or its whole part if that has more; never with an exponent."""
    if not math.isfinite(number):
        return ""
    if abs(number) >= 1000:
        return f"{number:.0f}"
    digits = f"{float(f'{number:.4g}'):.9f}"
    return digits.rstrip("0").rstrip(".")
