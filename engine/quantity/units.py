"""The one table of units: their kinds, and their exact factors to the base unit of the kind."""

from fractions import Fraction
from typing import NamedTuple

from engine.quantity.amount import Kind


class UnknownUnit(ValueError):
    """A unit that is not in the closed table was named by a procedure or a caller. The message names it."""


class Scale(NamedTuple):
    """How a number in a unit becomes one in the base unit: ``base = number * factor + offset``, exactly."""

    factor: Fraction
    offset: Fraction = Fraction(0)


_ONE = Fraction(1)
_MICRO, _MILLI, _CENTI = Fraction(1, 10**6), Fraction(1, 1000), Fraction(1, 100)
_KILO, _MEGA = Fraction(1000), Fraction(10**6)
"""SI prefixes: SI Brochure, 9th edition, table 7."""

_INCH_M = Fraction("0.0254")
_POUND_KG = Fraction("0.45359237")
"""International yard and pound, 1959, as in NIST SP 811, appendix B.8."""

_FREE_FALL_M_S2 = Fraction("9.80665")
"""Standard acceleration of free fall: 3rd CGPM (1901), as in NIST SP 811, appendix B.8."""

_LBF_N = _POUND_KG * _FREE_FALL_M_S2
_OZF_N = _LBF_N / 16
_DEGF_K = Fraction(5, 9)
"""Degree Fahrenheit, and 32 degF = 0 degC below: NIST SP 811, appendix B.8."""

_FACTORS: dict[Kind, dict[str, Fraction]] = {
    Kind.VOLTAGE: {"V": _ONE, "mV": _MILLI},
    Kind.CURRENT: {"A": _ONE, "mA": _MILLI},
    Kind.RESISTANCE: {"ohm": _ONE, "uohm": _MICRO, "mohm": _MILLI, "kohm": _KILO, "Mohm": _MEGA},
    Kind.LENGTH: {"m": _ONE, "mm": _MILLI, "cm": _CENTI, "in": _INCH_M, "ft": 12 * _INCH_M},
    Kind.AREA: {"mm2": _ONE},
    Kind.TORQUE: {
        "N m": _ONE,
        "cN m": _CENTI,
        "kgf cm": _FREE_FALL_M_S2 * _CENTI,
        "lbf in": _LBF_N * _INCH_M,
        "lbf ft": _LBF_N * 12 * _INCH_M,
        "ozf in": _OZF_N * _INCH_M,
    },
    Kind.FORCE: {"N": _ONE, "kgf": _FREE_FALL_M_S2, "lbf": _LBF_N, "ozf": _OZF_N},
    Kind.TEMPERATURE: {"degC": _ONE, "degF": _DEGF_K},
    Kind.DIFFERENCE: {"K": _ONE, "degF diff": _DEGF_K},
    Kind.TIME: {"s": _ONE, "min": Fraction(60), "h": Fraction(3600)},
    Kind.POWER: {"W": _ONE, "kW": _KILO},
    Kind.CHARGE: {"Ah": _ONE, "mAh": _MILLI},
    Kind.RATIO: {"%": _ONE},
    Kind.COUNT: {"": _ONE},
}

_OFFSETS = {"degF": -32 * _DEGF_K}

_SCALES = {
    unit: Scale(factor, _OFFSETS.get(unit, Fraction(0))) for row in _FACTORS.values() for unit, factor in row.items()
}

_KIND_BY_UNIT = {unit: kind for kind, row in _FACTORS.items() for unit in row}

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


def scale_of(unit: str) -> Scale:
    """Return the exact scale of a unit.

    Raises:
        UnknownUnit: if the name is not in the closed table.

    Source:
        Beside each figure above.

    Example:
        >>> scale_of("in").factor
        Fraction(127, 5000)
    """
    kind_of(unit)
    return _SCALES[unit]


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


def _exact(number: float | Fraction) -> Fraction | None:
    """Return the shortest decimal that reads back as the float, exactly; ``None`` for infinity and no-number."""
    if isinstance(number, Fraction):
        return number
    try:
        return Fraction(repr(float(number)))
    except ValueError:
        return None
