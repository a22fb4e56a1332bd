"""Reads what a person typed for one reading. Never raises over the text, never guesses."""

import math
import re
from fractions import Fraction

from engine.quantity.alphabet import cleaned, with_plain_signs
from engine.quantity.amount import Amount, Fault, Kind, Question, Read
from engine.quantity.grammar import Written, taken_apart
from engine.quantity.number import Number, Wrong
from engine.quantity.rarer import rarer_factor
from engine.quantity.show import range_words
from engine.quantity.spellings import Misspelled, unit_spelled
from engine.quantity.units import kind_of, kind_words, scale_of
from engine.quantity.wanted import WIRE, Wanted
from engine.quantity.wire import read_wire


def read(text: str, unit: str, *, over_range: bool = False, signed: bool = False) -> Read:
    """Return what an entry means: an amount, a wire size, a fault with its place, or a question to the person.

    Args:
        text: The entry as typed. Nothing in it can make this raise.
        unit: The unit of a bare number: one of ``units.UNITS`` (``""`` for a count), or ``wire`` for a wire size.
        over_range: Whether ``OL`` and ``open`` are an answer here; the number is then infinite.
        signed: Whether a plus or minus must be typed.

    Raises:
        UnknownUnit: if ``unit`` is none of ours: a mistake in the procedure, not in the entry.

    Example:
        >>> read("24,9", "V").number, read("33", "mm").number
        (24.9, 0.033)
        >>> print(read("2.4.9", "V").caret())
        2.4.9
           ^
    """
    return read_wanted(text, Wanted(unit, over_range, signed))


def read_wanted(text: str, wanted: Wanted) -> Read:
    """Return what an entry means; the same as ``read``, with what is asked for as one value.

    Raises:
        UnknownUnit: if the wanted unit is none of ours.

    Example:
        >>> read_wanted("OL", Wanted("ohm", over_range=True)).number
        inf
    """
    _ = wanted.kind
    plain = cleaned(text)
    if isinstance(plain, Fault):
        return plain
    if wanted.unit == WIRE:
        return read_wire(text, plain)
    if found := _OVER.fullmatch(plain):
        return _over_range(text, found, wanted)
    written = taken_apart(plain, wanted.example)
    if isinstance(written, Wrong):
        return Fault(text, written.sentence, written.column)
    return _with_unit(text, written, wanted)


_OVER = re.compile(
    r" *(?P<sign>[+-]?) *(?:[O0]\.?L\.?|\.OL|over ?(?:range|load)|open)(?: +(?P<unit>[^ ].*?))? *", re.IGNORECASE
)


def _over_range(text: str, found: re.Match[str], wanted: Wanted) -> Amount | Fault:
    if not wanted.over_range:
        return Fault(text, f"Over range is no answer here: type a number, such as {wanted.example}.")
    if wanted.signed and not found["sign"]:
        return _sign_missing(text)
    unit = _unit(found["unit"] or "", wanted)
    if isinstance(unit, Wrong):
        return Fault(text, unit.sentence, found.start("unit"))
    return Amount(text, math.inf, wanted.kind, unit, signed=bool(found["sign"]))


def _with_unit(text: str, written: Written, wanted: Wanted) -> Read:
    if wanted.signed and not written.sign:
        return _sign_missing(text)
    unit = _unit(written.unit_text, wanted)
    if isinstance(unit, Wrong):
        return _in_rarer_unit(text, written, wanted) or Fault(text, unit.sentence, written.unit_column)
    if written.second:
        return _compound(text, written, unit, wanted)
    if fault := _fraction_fault(text, written.number, unit, wanted):
        return fault
    if written.number.thousands is not None:
        return _thousands(text, written, written.number.thousands, unit)
    if written.number.fraction and not written.unit_text and unit in _METRIC_LENGTHS:
        return _inch_fraction(text, written, unit)
    return _amount(text, written.signed_value, written.number.step, unit, written)


def _unit(typed: str, wanted: Wanted) -> str | Wrong:
    """Return our name of the unit typed, the wanted one if none was, or what is wrong with it (column 0)."""
    if not typed:
        return wanted.unit
    unit = unit_spelled(typed, wanted.kind)
    if isinstance(unit, Misspelled):
        return Wrong(unit.sentence, 0)
    if unit is None:
        return Wrong(_unknown(typed, wanted), 0)
    if kind_of(unit) is not wanted.kind and wanted.kind is Kind.COUNT:
        return Wrong(f"{unit} is {kind_words(kind_of(unit))}; a {_COUNT} {wanted.example}.", 0)
    if kind_of(unit) is not wanted.kind:
        return Wrong(f"{unit} is {kind_words(kind_of(unit))}, and {wanted.words} is wanted: type {wanted.units}.", 0)
    return unit


def _unknown(typed: str, wanted: Wanted) -> str:
    if typed[0] in "Oo":
        return "This is the letter O: type the figure 0."
    if _SECOND_NUMBER.search(typed):
        return f"One number with one unit is wanted, such as {wanted.example}."
    if wanted.kind is Kind.COUNT:
        return f"A {_COUNT} {wanted.example}."
    shown = typed if len(typed) <= 12 else f"{typed[:12]}..."
    return f"{shown} is no unit of {wanted.words}: type {wanted.units}, or the number alone."


_COUNT = "count has no unit: type the number alone, such as"
_SECOND_NUMBER = re.compile(r"[;/]|[^A-Za-z^][0-9]")


def _sign_missing(text: str) -> Fault:
    figure = with_plain_signs(text).strip()[:12]
    return Fault(text, f"The sign is part of this reading: type +{figure} or -{figure}, as the meter shows it.")


_PARTS = {"ft": ("in", 12), "h": ("min", 60), "min": ("s", 60)}


def _compound(text: str, written: Written, unit: str, wanted: Wanted) -> Amount | Fault:
    """Return feet with inches (hours with minutes, minutes with seconds) as an amount in the larger unit."""
    second = written.second
    if second is None or unit not in _PARTS:
        return Fault(text, f"One number with one unit is wanted, such as {wanted.example}.", written.unit_column)
    smaller, parts = _PARTS[unit]
    typed = unit_spelled(second.unit_text, wanted.kind) if second.unit_text else smaller
    example = f"such as 15 {unit} 2 {smaller}"
    if typed != smaller:
        return Fault(text, f"After {unit} only {smaller} can follow, {example}.", second.unit_column)
    if not written.number.whole:
        return Fault(text, f"Before {smaller} the {unit} are a whole number, {example}.")
    if second.number.value >= parts:
        return Fault(text, f"After {unit} the {smaller} are below {parts}, {example}.", second.number_column)
    size = written.number.value + second.number.value / parts
    return _amount(text, -size if written.sign == "-" else size, second.number.step / parts, unit, written)


_FRACTION_KINDS = (Kind.LENGTH, Kind.TIME, Kind.COUNT)
_INCH_PARTS = (2, 4, 8, 10, 16, 32, 64, 100, 128)
_METRIC_LENGTHS = ("mm", "cm", "m")


def _fraction_fault(text: str, number: Number, unit: str, wanted: Wanted) -> Fault | None:
    if not number.fraction:
        return None
    slash = max(text.find("/"), 0)
    if wanted.kind not in _FRACTION_KINDS:
        return Fault(text, f"{wanted.words.capitalize()} is typed as a decimal, such as {wanted.example}.", slash)
    if unit == "in" and number.step.denominator not in _INCH_PARTS:
        return Fault(text, "An inch is parted in 2, 4, 8, 16, 32 or 64: type one of these or a decimal.", slash + 1)
    return None


def _thousands(text: str, written: Written, grouped: Fraction, unit: str) -> Question:
    """Return the question whether a comma before three digits is a decimal mark or parts the thousands."""
    as_decimal = _amount(text, written.signed_value, written.number.step, unit, written)
    as_thousands = _amount(text, -grouped if written.sign == "-" else grouped, Fraction(1), unit, written)
    sign = "-" if written.sign == "-" else ""
    digits = f"{grouped}"
    decimal = f"{sign}{digits[:-3]}.{digits[-3:]} {unit}".rstrip()
    whole = f"{sign}{digits} {unit}".rstrip()
    choices = ((f"{decimal}, a decimal comma", as_decimal), (f"{whole}, a thousands comma", as_thousands))
    return Question(text, f"Does the comma mean {decimal} or {whole}?", choices)


def _inch_fraction(text: str, written: Written, unit: str) -> Question:
    """Return the question whether a fraction without a unit is of an inch or of the metric unit asked for."""
    typed = with_plain_signs(text).strip()
    as_metric = _amount(text, written.signed_value, written.number.step, unit, written)
    as_inch = _amount(text, written.signed_value, written.number.step, "in", written)
    choices = ((f"as typed: {typed} {unit}", as_metric), (f"{typed} in ({as_inch.number * 1000:.1f} mm)", as_inch))
    return Question(text, f"A fraction without a unit: is it {typed} {unit} or {typed} in?", choices)


def _in_rarer_unit(text: str, written: Written, wanted: Wanted) -> Question | None:
    """Return the question whether a decimal in a unit that the table lacks is what the unit library makes of it."""
    if written.second or written.number.fraction or written.number.thousands is not None:
        return None
    factor = rarer_factor(written.unit_text, wanted.kind)
    if factor is None:
        return None
    number, step = float(written.signed_value * factor), float(written.number.step * factor)
    amount = Amount(text, number, wanted.kind, wanted.unit, step, signed=bool(written.sign))
    shown = range_words(number, number, wanted.unit)
    return Question(
        text, f"{written.unit_text} is a rare unit here: {text.strip()} is {shown}. Is it?", ((shown, amount),)
    )


def _amount(text: str, value: Fraction, step: Fraction, unit: str, written: Written) -> Amount:
    scale = scale_of(unit)
    number = float(value * scale.factor + scale.offset)
    return Amount(text, number, kind_of(unit), unit, float(step * scale.factor), signed=bool(written.sign))
