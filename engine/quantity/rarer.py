"""A unit that the table lacks, as the unit library knows it: ``uA``, ``kV``, ``Gohm``, ``yd``."""

import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from engine.quantity.amount import Kind
from engine.quantity.spellings import begins_spelling

_LIBRARY_NAMES = {
    Kind.VOLTAGE: "volt",
    Kind.CURRENT: "ampere",
    Kind.RESISTANCE: "ohm",
    Kind.LENGTH: "meter",
    Kind.FORCE: "newton",
    Kind.TIME: "second",
    Kind.POWER: "watt",
    Kind.CHARGE: "ampere_hour",
}
"""Kinds with units beyond the table, and the library's names of their base units. A joule is no torque."""

_WORD = re.compile("[A-Za-zΩ]{2,20}")


@lru_cache(maxsize=64)
def rarer_factor(word: str, kind: Kind) -> Fraction | None:
    """Return how many base units of ``kind`` one of a unit is; ``None`` if the library knows no such unit of the kind.

    The library is not loaded for the beginning of a spelling that the table knows: it may still be typed on.

    Source:
        The definitions of the unit library (pint), exact where theirs are.

    Example:
        >>> rarer_factor("yd", Kind.LENGTH), rarer_factor("vol", Kind.VOLTAGE)
        (Fraction(1143, 1250), None)
    """
    base = _LIBRARY_NAMES.get(kind)
    if base is None or not _WORD.fullmatch(word) or begins_spelling(word):
        return None
    for prefix, name, _ in _library().parse_unit_name(word)[:1]:
        try:
            one = _library().Quantity(Fraction(1), prefix + name)
            if one.is_compatible_with(base):
                return Fraction(one.to(base).magnitude)
        except TypeError:  # a prefix before a unit with an offset: there is no thousandth of a degree Celsius
            return None
    return None


@cache
def _library() -> Any:  # noqa: ANN401 -- the library's registry has no useful static type
    from pint import UnitRegistry  # lazy: a quarter of a second, for a unit that hardly anybody types

    return UnitRegistry(non_int_type=Fraction)
