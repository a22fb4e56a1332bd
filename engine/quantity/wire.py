"""Wire sizes as they are marked: AWG, SAE or mm2, and the one label that each is kept under."""

import math
import re
from fractions import Fraction

from engine.quantity.amount import Fault, Question, Read, WireSize
from engine.quantity.number import Wrong, number_at

AWG_GAUGES = ("4/0", "3/0", "2/0", "1/0", *(str(gauge) for gauge in range(1, 37)))
"""Gauges with a standard diameter (ASTM B258), from the thickest."""

SAE_GAUGES = ("4/0", "2/0", "1/0", "1", "2", "4", "6", "8", "10", "12", "14", "16", "18")
"""Gauges with a least area in SAE J1127 and J1128, as quoted; from the thickest."""

LEAST_MM2, MOST_MM2 = Fraction(1, 2), Fraction(150)
"""Metric conductors looked at here [mm2]: 0.5 to 150 (project rule; the allowable-current tables end there)."""

_GAUGE = r"(?P<gauge>0{1,4}|[0-9]{1,3}|[0-9] ?/ ?0)"
_MARKED = re.compile(
    rf"(?P<before>awg|sae|#|no\.?|ga(?:uge|ge)?\.?)? *{_GAUGE} *-?(?P<after>awg|sae|ga(?:uge|ge)?\.?)?", re.IGNORECASE
)
_METRIC = re.compile(r" *(?:mm2|mm\^2|mm²|sq\.? ?mm|square mm|mm sq\.?|qmm)", re.IGNORECASE)
_ASK = "Type the size with its system: 8 AWG, SAE 8 or 10 mm2."


def read_wire(text: str, plain: str) -> Read:
    """Return the wire size that an entry marks, a fault, or the question which system a bare figure is of.

    Args:
        text: The entry as typed.
        plain: The same entry, cleaned (see ``alphabet``).

    Example:
        >>> read_wire("#8", "#8").label, read_wire("00", "00").label, read_wire("16 mm²", "16 mm²").label
        ('8 AWG', '2/0 AWG', '16 mm2')
    """
    typed = plain.strip()
    column = len(plain) - len(plain.lstrip())
    if not typed:
        return Fault(text, f"Nothing was typed. {_ASK}")
    if found := _MARKED.fullmatch(typed):
        return _gauge(text, column, found)
    return _metric(text, column, typed)


def awg_area_mm2(gauge: str) -> float:
    """Return the nominal area of a gauge [mm2], only to be shown beside a question.

    Args:
        gauge: One of ``AWG_GAUGES``.

    Source:
        ASTM B258: diameter 0.127 mm * 92 ** ((36 - n) / 39), with n = 1 - zeros for 1/0 to 4/0.

    Example:
        >>> round(awg_area_mm2("8"), 2), round(awg_area_mm2("2/0"), 1)
        (8.37, 67.4)
    """
    number = 1 - int(gauge[0]) if gauge.endswith("/0") else int(gauge)
    diameter_mm: float = 0.127 * 92 ** ((36 - number) / 39)
    return math.pi / 4 * diameter_mm * diameter_mm


def _gauge(text: str, column: int, found: re.Match[str]) -> Read:
    gauge = _one_spelling(found["gauge"])
    at = column + found.start("gauge")
    marks = {mark.lower() for mark in (found["before"], found["after"]) if mark}
    if {"awg", "sae"} <= marks:
        return Fault(text, f"AWG and SAE are two systems: type one of them. {_ASK}", column)
    if "sae" in marks:
        return _sized(text, "SAE", gauge, SAE_GAUGES, at)
    if "awg" in marks or "#" in marks or (not marks and len(found["gauge"]) > 1 and gauge.endswith("/0")):
        return _sized(text, "AWG", gauge, AWG_GAUGES, at)
    return _which_system(text, gauge, at, metric=not marks and "/" not in gauge)


def _one_spelling(gauge: str) -> str:
    digits = gauge.replace(" ", "")
    if set(digits) == {"0"}:
        return f"{len(digits)}/0"
    return digits


def _sized(text: str, system: str, gauge: str, gauges: tuple[str, ...], at: int) -> WireSize | Fault:
    if gauge not in gauges:
        listed = f"{gauges[-1]} to 1 and 1/0 to 4/0" if system == "AWG" else ", ".join(reversed(gauges))
        return Fault(text, f"There is no {gauge} in {system}: the gauges are {listed}.", at)
    return _labelled(text, system, gauge)


def _labelled(text: str, system: str, size: str) -> WireSize:
    label = {"AWG": f"{size} AWG", "SAE": f"SAE {size}", "mm2": f"{size} mm2"}[system]
    return WireSize(text, system, label)


def _which_system(text: str, gauge: str, at: int, *, metric: bool) -> Question | Fault:
    """Return the question AWG, SAE or mm2, with only those systems that have the size."""
    choices: list[tuple[str, WireSize]] = []
    said = ""
    if gauge in AWG_GAUGES:
        area = f"{awg_area_mm2(gauge):.3g} mm2"
        choices.append((f"{gauge} AWG ({area})", _labelled(text, "AWG", gauge)))
        said = f"{gauge} AWG is {area}. "
    if gauge in SAE_GAUGES:
        choices.append((f"SAE {gauge} (a little smaller than AWG)", _labelled(text, "SAE", gauge)))
    if metric and LEAST_MM2 <= int(gauge) <= MOST_MM2:
        choices.append((f"{int(gauge)} mm2", _labelled(text, "mm2", str(int(gauge)))))
    if not choices:
        return Fault(text, f"There is no wire size {gauge}. {_ASK}", at)
    return Question(text, f"{said}Which system is the {gauge} of: {_listed(choices)}?", tuple(choices))


def _listed(choices: list[tuple[str, WireSize]]) -> str:
    return " or ".join(", ".join(size.system for _, size in choices).rsplit(", ", 1))


def _metric(text: str, column: int, typed: str) -> Read:
    scanned = number_at(typed, 0)
    if isinstance(scanned, Wrong):
        return Fault(text, f"{scanned.sentence}. {_ASK}", column + scanned.column)
    number, end = scanned
    rest = typed[end:]
    if number.fraction or (rest and not _METRIC.fullmatch(rest)):
        return Fault(text, f"This is no marking of a wire. {_ASK}", column + (0 if number.fraction else end))
    if not LEAST_MM2 <= number.value <= MOST_MM2:
        return Fault(text, f"Wires here are {float(LEAST_MM2):g} to {float(MOST_MM2):g} mm2. {_ASK}", column)
    size = _labelled(text, "mm2", f"{float(number.value):g}")
    if rest:
        return size
    return Question(text, f"Only mm2 has a size {typed}: is the wire {size.label}?", ((size.label, size),))
