"""A circuit told in short: the figures of each part, and the volts after each part at full load."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.plan.circuit import Part
from engine.plan.judged import Judged, JudgedPart, wire_ohm
from engine.procedure.model_circuit import PartKind
from engine.quantity import show

FIGURES: Mapping[PartKind, tuple[tuple[str, str], ...]] = {
    PartKind.BANK: (("nominal", "V"),),
    PartKind.PROTECTION: (("fitted", "A"),),
    PartKind.WIRE: (("size", ""), ("out", "m"), ("back", "m")),
    PartKind.JOINT: (("resistance", "mohm"),),
    PartKind.RECEPTACLE: (("rating", "A"),),
    PartKind.PLUG: (("rating", "A"),),
    PartKind.SWITCH: (("rating", "A"),),
    PartKind.LOAD: (("current", "A"), ("nominal", "V")),
}
"""Which figures say a part in short, by its kind."""


@dataclass(frozen=True, slots=True)
class VoltsAfter:
    """The volts after a part at full load [V], and what is lost in it [V]."""

    name: str
    volts_v: float
    lost_v: float


def figures(part: Part) -> str:
    """Return a part's figures in short: ``8 AWG, 5.2 m out, 5.2 m back``."""
    words = []
    for name, unit in FIGURES[part.kind]:
        value = part.figures.get(name)
        if isinstance(value, str):
            words.append(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            words.append(f"{show(float(value), unit, both=False)}{f' {name}' if name in ('out', 'back') else ''}")
    return ", ".join(words)


def volts_along(judged: Judged) -> tuple[VoltsAfter, ...]:
    """Return the volts at full load after each part, from the nominal volts of the bank to the load.

    Empty if the volts, the load or a wire is not known.
    """
    nominal = judged.circuit.shared("nominal")
    load = judged.circuit.shared("current")
    if not isinstance(nominal, int | float) or not isinstance(load, int | float):
        return ()
    volts, found = float(nominal), []
    for part in judged.parts:
        lost = _own_drop_v(part, float(load))
        if lost is None:
            return ()
        volts -= lost
        found.append(VoltsAfter(part.part.name, volts, lost))
    return tuple(found)


def _own_drop_v(judged: JudgedPart, load_a: float) -> float | None:
    wire = judged.part.kind is PartKind.WIRE
    ohm = wire_ohm(judged.part) if wire else judged.part.number("resistance") or 0.0
    return None if ohm is None else load_a * ohm
