"""The units that are known here, their kinds, and their exact factors, asked once each of the unit library."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from engine.quantity.amount import Kind


class UnknownUnit(ValueError):
    """A unit that is not in the closed table was named by a procedure or a caller. The message names it."""


@dataclass(frozen=True, slots=True)
class Scale:
    """How a number in a unit becomes one in the base unit: ``base = number * factor + offset``, exactly."""

    factor: Fraction
    offset: Fraction = Fraction(0)


_LIBRARY_NAME_BY_UNIT: dict[Kind, dict[str, str]] = {
    Kind.VOLTAGE: {"V": "volt", "mV": "millivolt"},
    Kind.CURRENT: {"A": "ampere", "mA": "milliampere"},
    Kind.RESISTANCE: {"ohm": "ohm", "uohm": "microohm", "mohm": "milliohm", "kohm": "kiloohm", "Mohm": "megaohm"},
    Kind.LENGTH: {"m": "meter", "mm": "millimeter", "cm": "centimeter", "in": "inch", "ft": "foot"},
    Kind.AREA: {"mm2": ""},
    Kind.TORQUE: {
        "N m": "newton_meter",
        "cN m": "centinewton_meter",
        "kgf cm": "kilogram_force_centimeter",
        "lbf in": "pound_force_inch",
        "lbf ft": "pound_force_foot",
        "ozf in": "ounce_force_inch",
    },
    Kind.FORCE: {"N": "newton", "kgf": "kilogram_force", "lbf": "pound_force", "ozf": "ounce_force"},
    Kind.TEMPERATURE: {"degC": "degree_celsius", "degF": "degree_fahrenheit"},
    Kind.DIFFERENCE: {"K": "kelvin", "degF diff": "fahrenheit_step"},
    Kind.TIME: {"s": "second", "min": "minute", "h": "hour"},
    Kind.POWER: {"W": "watt", "kW": "kilowatt"},
    Kind.CHARGE: {"Ah": "ampere_hour", "mAh": "milliampere_hour"},
    Kind.RATIO: {"%": ""},
    Kind.COUNT: {"": ""},
}

_KIND_BY_UNIT = {unit: kind for kind, names in _LIBRARY_NAME_BY_UNIT.items() for unit in names}

UNITS = tuple(_KIND_BY_UNIT)
"""Every unit name of ours, as procedures write it."""

_KIND_WORDS = {
    Kind.VOLTAGE: "a voltage",
    Kind.CURRENT: "a current",
    Kind.RESISTANCE: "a resistance",
    Kind.LENGTH: "a length",
    Kind.AREA: "a conductor's area",
    Kind.TORQUE: "a torque",
    Kind.FORCE: "a force",
    Kind.TEMPERATURE: "a temperature",
    Kind.DIFFERENCE: "a temperature difference",
    Kind.TIME: "a time",
    Kind.POWER: "a power",
    Kind.CHARGE: "a battery charge",
    Kind.RATIO: "a percentage",
    Kind.COUNT: "a count",
}


def kind_of(unit: str) -> Kind:
    """Return the kind of quantity that a unit of ours measures.

    Args:
        unit: A unit name of ours, such as ``mm`` or ``N m``.

    Raises:
        UnknownUnit: if the name is not in the closed table.

    Example:
        >>> kind_of("lbf in")
        <Kind.TORQUE: 'N m'>
    """
    try:
        return _KIND_BY_UNIT[unit]
    except KeyError:
        known = ", ".join(filter(None, UNITS))
        raise UnknownUnit(f"{unit[:20]!r} is not a unit known here; the units are {known}") from None


def kind_words(kind: Kind) -> str:
    """Return a kind as people say it.

    Example:
        >>> kind_words(Kind.LENGTH)
        'a length'
    """
    return _KIND_WORDS[kind]


@cache
def scale_of(unit: str) -> Scale:
    """Return the exact scale of a unit. The unit library is asked only once a unit, and never for a base unit.

    Raises:
        UnknownUnit: if the name is not in the closed table.

    Source:
        The definitions in ``units.txt`` beside this file, each with its origin.

    Example:
        >>> scale_of("in").factor
        Fraction(127, 5000)
    """
    kind = kind_of(unit)
    if unit == kind.value:
        return Scale(Fraction(1))
    names = _LIBRARY_NAME_BY_UNIT[kind]
    at_zero, at_one = (_asked(Fraction(number), names[unit], names[kind.value]) for number in (0, 1))
    return Scale(at_one - at_zero, at_zero)


def to_base(number: float | Fraction, unit: str) -> float:
    """Return a number of ``unit`` in the base unit of its kind, correctly rounded.

    Args:
        number: The number, in ``unit``; infinity stays infinity.
        unit: A unit name of ours.

    Raises:
        UnknownUnit: if the name is not in the closed table.

    Example:
        >>> to_base(33, "mm"), to_base(140, "degF")
        (0.033, 60.0)
    """
    scale = scale_of(unit)
    exact = _exact(number)
    return float(number) if exact is None else float(exact * scale.factor + scale.offset)


def from_base(number: float | Fraction, unit: str) -> float:
    """Return a number in the base unit of the kind of ``unit`` as a number of ``unit``.

    Raises:
        UnknownUnit: if the name is not in the closed table.

    Example:
        >>> from_base(0.0254, "in")
        1.0
    """
    scale = scale_of(unit)
    exact = _exact(number)
    return float(number) if exact is None else float((exact - scale.offset) / scale.factor)


def prepare() -> None:
    """Ask the unit library for every factor now, so that no entry waits for its import later."""
    for unit in UNITS:
        scale_of(unit)


def _exact(number: float | Fraction) -> Fraction | None:
    """Return the shortest decimal that reads back as the float, exactly; ``None`` for infinity and no-number."""
    if isinstance(number, Fraction):
        return number
    try:
        return Fraction(repr(float(number)))
    except ValueError:
        return None


def _asked(number: Fraction, unit: str, base: str) -> Fraction:
    return Fraction(_registry().Quantity(number, unit).to(base).magnitude)


@cache
def _registry() -> Any:  # noqa: ANN401 -- the library's registry has no useful static type
    from pint import UnitRegistry  # lazy: the import costs a third of a second, and must not delay the first screen

    return UnitRegistry(str(Path(__file__).with_name("units.txt")), non_int_type=Fraction)
