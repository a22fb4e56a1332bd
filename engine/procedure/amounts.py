"""Amounts and labels as an author writes them in a procedure, in base units; refused in one sentence if not.

The plain form, a number and a unit name, is read here with the exact factors below, so that loading a procedure need
not wait for the unit library; every other form goes through ``engine.quantity``. A test holds both against each other.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from engine.nearest import near_word
from engine.quantity.amount import Amount, Fault, Kind, Question, WireSize
from engine.quantity.pin_map import read_pin_map
from engine.quantity.pin_rows import PIN_MAP, PinRows
from engine.quantity.spellings import Misspelled, spellings, unit_spelled
from engine.quantity.units import UNITS, kind_words
from engine.quantity.units import kind_of as unit_kind
from engine.quantity.wanted import LABEL_UNITS

DAY_S = 86400.0
"""Seconds in a day, by definition."""

_SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0, "day": DAY_S, "days": DAY_S}

SPAN = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,3})?) ?(s|min|h|days?)")
"""How a span of time is written in a procedure."""

_LONGEST = 40
_PLAIN = re.compile(r"([+-]?[0-9]+(?:\.[0-9]+)?)\s*((?:[^\W\d_]|[%°]).*|)", re.DOTALL)

FACTORS: dict[str, tuple[int, int]] = {
    "mV": (1, 1000),
    "mA": (1, 1000),
    "mohm": (1, 1000),
    "uohm": (1, 10**6),
    "kohm": (1000, 1),
    "Mohm": (10**6, 1),
    "mm": (1, 1000),
    "cm": (1, 100),
    "in": (254, 10000),  # international inch, exact by definition (1959 agreement)
    "ft": (3048, 10000),  # international foot, exact by the same agreement
    "cN m": (1, 100),
    "min": (60, 1),
    "h": (3600, 1),
    "kW": (1000, 1),
    "mAh": (1, 1000),
}
"""Exact factors to the base unit, as quotients: SI prefixes, and definitions where a remark says so."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """Why a text in a procedure cannot be taken: one sentence, what is wrong and what would be right."""

    sentence: str


@dataclass(frozen=True, slots=True)
class Plain:
    """A number in base units and its kind."""

    number: float
    kind: Kind


def kind(unit: str) -> Kind:
    """Return the kind of a unit that has been checked before.

    Example:
        >>> kind("mm")
        <Kind.LENGTH: 'm'>
    """
    return unit_kind(unit)


def unit_fault(unit: str) -> str:
    """Return why ``unit`` cannot be the unit of an entry, or an empty text if it can.

    Example:
        >>> unit_fault("millimetres")
        '"millimetres" is not a unit of this program; did you mean "mm"?'
    """
    if unit in LABEL_UNITS or unit in UNITS:
        return ""
    return _unknown_unit(unit, *LABEL_UNITS)


def amount(text: str, unit: str) -> Plain | Wrong:
    """Return an amount that stands in the file with its unit, such as ``"120 A"``.

    Args:
        text: The amount as written.
        unit: The unit that the entry or input is asked in; the text may use any unit of the same kind.

    Example:
        >>> amount("12 mm", "m"), amount("12", "m").sentence
        (Plain(number=0.012, kind=<Kind.LENGTH: 'm'>), '"12" needs a unit, such as "12 m"')
    """
    wanted = unit_kind(unit)
    match = _PLAIN.fullmatch(text.strip()) if len(text) <= _LONGEST else None
    if match is None:
        return _typed(text, unit)
    if not match[2] and wanted is not Kind.COUNT:
        return Wrong(f'"{text}" needs a unit, such as "{match[1]} {unit}"')
    return _with_unit(text, match[1], match[2], wanted)


def _with_unit(text: str, digits: str, spelled: str, wanted: Kind) -> Plain | Wrong:
    found = unit_spelled(spelled, wanted) if spelled else ""
    if isinstance(found, Misspelled):
        return Wrong(f'"{text}": {found.sentence}')
    if found is None:
        typed = _typed(text, wanted.value)  # feet and inches have a number in their unit
        return typed if isinstance(typed, Plain) else Wrong(f'"{text}": {_unknown_unit(spelled)}')
    if unit_kind(found) is not wanted:
        other = kind_words(unit_kind(found))
        return Wrong(f'"{text}" is {other}; {kind_words(wanted)} is asked here{_in_unit(wanted)}')
    return _in_base(text, digits, found, wanted)


def _in_base(text: str, digits: str, unit: str, wanted: Kind) -> Plain | Wrong:
    if len(digits) > _LONGEST or not math.isfinite(float(digits)):
        return Wrong(f'"{text}" is too long a number')
    if unit == wanted.value:
        return Plain(float(digits), wanted)
    if unit in FACTORS:
        above, below = FACTORS[unit]
        return Plain(float(Fraction(digits) * above / below), wanted)
    return _typed(text, unit)


def _typed(text: str, unit: str) -> Plain | Wrong:
    from engine.quantity.read import read  # only the rarer forms need it

    found = read(text, unit)
    if isinstance(found, Amount) and math.isfinite(found.number):
        return Plain(found.number, found.kind)
    if isinstance(found, Fault | Question):
        return Wrong(f'"{_short(text)}": {found.sentence}')
    return Wrong(f'"{_short(text)}" is not an amount; write a number and its unit, such as "5 {unit}"'.rstrip())


def written(digits: str, spelled: str) -> Plain | Wrong:
    """Return a number of a limit in base units, or the sentence that refuses its unit.

    Args:
        digits: The number, digits and perhaps a point.
        spelled: Its unit as written, empty for a plain number.

    Example:
        >>> written("1", "mm")
        Plain(number=0.001, kind=<Kind.LENGTH: 'm'>)
    """
    if not spelled:
        return Plain(float(digits), Kind.COUNT)
    found = unit_spelled(spelled, Kind.COUNT)
    if found is None or isinstance(found, Misspelled):
        return Wrong(found.sentence if found else _unknown_unit(spelled))
    return _in_base(f"{digits} {spelled}", digits, found, unit_kind(found))


def label(text: str, form: str) -> str | bool | Wrong:
    """Return what a session holds for a label: a bool for yes or no, the one spelling of a wire size, else the text.

    Example:
        >>> label("yes", "yes/no"), label("#8", "choice")
        (True, '#8')
    """
    if form == "yes/no":
        return {"yes": True, "no": False}.get(text.strip().lower(), Wrong(f'"{_short(text)}" is not yes or no'))
    if form == PIN_MAP:
        return _pin_map(text)
    return _wire(text) if form == "wire" else text


def _pin_map(text: str) -> str | Wrong:
    rows = read_pin_map(text)
    return rows.label if isinstance(rows, PinRows) else Wrong(f'"{_short(text)}": {rows.sentence}')


def _wire(text: str) -> str | Wrong:
    from engine.quantity.read import read  # as above

    found = read(text, "wire")
    if isinstance(found, WireSize):
        return found.label
    sentence = found.sentence if isinstance(found, Fault | Question) else "it is not a wire size"
    return Wrong(f'"{_short(text)}": {sentence}')


def seconds(text: str) -> float | Wrong:
    """Return a span of time such as ``"10 min"`` or ``"1 day"`` [s].

    Example:
        >>> seconds("12 h"), seconds("1 day")
        (43200.0, 86400.0)
    """
    match = SPAN.fullmatch(text)
    if match is None:
        return Wrong(f'"{_short(text)}" is not a span of time; write it as "10 min", "12 h" or "1 day"')
    span_s = float(match[1]) * _SECONDS[match[2]]
    return span_s if span_s > 0 else Wrong(f'"{text}" must be above zero')


def shown_in(number: float, unit: str) -> float:
    """Return a number in base units as one of ``unit``, for people to read.

    Example:
        >>> shown_in(0.011, "mm"), shown_in(24.9, "V")
        (11.0, 24.9)
    """
    if unit == unit_kind(unit).value:
        return number
    if unit in FACTORS:
        above, below = FACTORS[unit]
        return number * below / above
    from engine.quantity.units import from_base  # the rarer units are asked of the unit library

    return from_base(number, unit)


def negative(value: float, text: str) -> float:
    """Return a written number with its sign turned; a temperature in degF keeps its own zero."""
    digits, _, spelled = text.partition(" ")
    found = written(f"-{digits}", spelled) if spelled else -value
    return found.number if isinstance(found, Plain) else -value


def example_unit(wanted: Kind | None) -> str:
    """Return the unit that an example of that kind is written in.

    Example:
        >>> example_unit(Kind.LENGTH), example_unit(Kind.RATIO)
        ('mm', '%')
    """
    return "mm" if wanted is Kind.LENGTH else (wanted.value if wanted else "")


def _in_unit(wanted: Kind) -> str:
    return f" (in {wanted.value})" if wanted.value else " (a number without unit)"


def _unknown_unit(given: str, *more: str) -> str:
    names = {name: name for name in (*UNITS, *more) if name}
    known = {**spellings(), **names}
    near = near_word(given[:_LONGEST], known)
    hint = f'did you mean "{known[near]}"?' if near else f"units are {', '.join(names)}"
    return f'"{_short(given)}" is not a unit of this program; {hint}'


def _short(text: str) -> str:
    cut = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    return "".join(sign if sign.isprintable() else "?" for sign in cut)
