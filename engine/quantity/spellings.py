"""The closed table of unit spellings: what people type for a unit, and our name for it."""

import re
from dataclasses import dataclass

from engine.quantity.amount import Kind

_SPELLED: dict[str, str] = {
    "V": "V, VDC, V DC, Vdc, volt, volts",
    "mV": "mV, mVDC, mV DC, millivolt, millivolts",
    "A": "A, ADC, A DC, Adc, amp, amps, ampere, amperes",
    "mA": "mA, milliamp, milliamps",
    "ohm": "ohm, ohms, Ω",
    "uohm": "uohm, µohm, µΩ, uΩ, microohm, microohms",
    "mohm": "mohm, mohms, mΩ, milliohm, milliohms",
    "kohm": "kohm, kohms, kΩ, kilohm, kilohms",
    "Mohm": "Mohm, Mohms, MΩ, megohm, megohms",
    "m": "m, M, meter, meters, metre, metres",
    "mm": "mm, millimeter, millimeters, millimetre, millimetres",
    "cm": "cm, centimeter, centimeters, centimetre, centimetres",
    "in": "in, inch, inches, \", ''",
    "ft": "ft, foot, feet, '",
    "mm2": "mm2, mm^2, mm², sq mm, sqmm, square mm",
    "N m": "N m, Nm, newton meter, newton meters, newton metre, newton metres",
    "cN m": "cN m, cNm",
    "kgf cm": "kgf cm, kg cm, kgcm",
    "lbf in": "lbf in, lb in, lbs in, lbin, in lbf, in lb, in lbs, inlb, inlbs, inch pound, inch pounds, pound inch",
    "lbf ft": "lbf ft, lb ft, lbs ft, lbft, ft lbf, ft lb, ft lbs, ftlb, ftlbs, foot pound, foot pounds, pound foot",
    "ozf in": "ozf in, oz in, in oz, in ozf",
    "N": "N, newton, newtons",
    "lbf": "lbf, lb, lbs, pound, pounds",
    "kgf": "kgf, kg, kilo, kilos, kilogram, kilograms",
    "ozf": "ozf, oz, ounce, ounces",
    "degC": "degC, deg C, degrees C, °C, ° C, ℃, C, celsius",
    "degF": "degF, deg F, degrees F, °F, ° F, ℉, F, fahrenheit",
    "K": "K, kelvin",
    "degF diff": "degF diff",
    "s": "s, sec, secs, second, seconds",
    "min": "min, mins, minute, minutes",
    "h": "h, hr, hrs, hour, hours",
    "W": "W, watt, watts",
    "kW": "kW, kilowatt, kilowatts",
    "Ah": "Ah, A h, amp hour, amp hours",
    "mAh": "mAh, mA h",
    "%": "%, percent, per cent, pct, %/K, %/degC, %/°C, %/° C, %/℃, %/C, % per K, % per degC, % per °C",
}
"""A panel's label prints its coefficient as per cent a kelvin or a degree: the entry says what it is a share of."""

_ONLY_FOR_KIND: dict[Kind, dict[str, str]] = {
    Kind.RESISTANCE: {"k": "kohm", "K": "kohm", "M": "Mohm"},
    Kind.DIFFERENCE: {"degC": "K", "degF": "degF diff"},
}
"""Spellings, or units of the table above, that mean something else where this kind is asked."""

_UNIT_BY_SPELLING = {spelling.strip(): unit for unit, line in _SPELLED.items() for spelling in line.split(", ")}

_CASE_MATTERS = {
    "mv": "MV would be millions of volts: type mV for thousandths.",
    "ma": "MA would be millions of amperes: type mA for thousandths.",
    "mohm": "Type mohm for thousandths of an ohm, or Mohm for millions.",
    "mohms": "Type mohm for thousandths of an ohm, or Mohm for millions.",
    "mω": "Type mohm for thousandths of an ohm, or Mohm for millions.",
    "mvdc": "MV would be millions of volts: type mV for thousandths.",
    "ma h": "Type mAh for thousandths of an ampere hour.",
    "mah": "Type mAh for thousandths of an ampere hour.",
}
"""Spellings, folded to small letters, in which a capital M changes the size a billion times: they are never guessed."""

_UNIT_BY_FOLDED = {
    folded: unit for spelling, unit in _UNIT_BY_SPELLING.items() if (folded := spelling.casefold()) not in _CASE_MATTERS
}

_JOINTS = re.compile(r"[ ·*.\-]+")
_WELL_FORMED = re.compile(r"[^ ·*.\-](?:.*[^ ·*\-])?")


@dataclass(frozen=True, slots=True)
class Misspelled:
    """A spelling that is almost a unit: the sentence says what to type."""

    sentence: str


def unit_spelled(text: str, wanted: Kind) -> str | Misspelled | None:
    """Return our name of the unit that ``text`` spells, or ``None`` if it spells none.

    Args:
        text: The unit as typed, already cleaned and without spaces at its ends.
        wanted: The kind that is asked for; a few short spellings depend on it.

    Example:
        >>> unit_spelled("in-lb", Kind.TORQUE), unit_spelled("VDC", Kind.VOLTAGE), unit_spelled("AWG", Kind.LENGTH)
        ('lbf in', 'V', None)
    """
    if not _WELL_FORMED.fullmatch(text):
        return None
    key = _JOINTS.sub(" ", text).strip()
    special = _ONLY_FOR_KIND.get(wanted, {})
    if key in special:
        return special[key]
    unit = _UNIT_BY_SPELLING.get(key) or _UNIT_BY_FOLDED.get(key.casefold())
    if unit is None:
        sentence = _CASE_MATTERS.get(key.casefold())
        return Misspelled(sentence) if sentence else None
    return special.get(unit, unit)


def begins_spelling(text: str) -> bool:
    """Return whether a text is the beginning of a spelling, in small or capital letters.

    Example:
        >>> begins_spelling("Mil"), begins_spelling("yd")
        (True, False)
    """
    return any(folded.startswith(text.casefold()) for folded in _UNIT_BY_FOLDED)


def spellings() -> dict[str, str]:
    """Return every spelling that is understood wherever its kind is asked, with our unit name."""
    return dict(_UNIT_BY_SPELLING)
