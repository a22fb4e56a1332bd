"""A circuit told in short: the figures of each part, and the volts after each part at full load."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.plan.circuit import Part
from engine.plan.judged import Judged, part_ohm, parts_ohm, wire_ohm
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
    volts, load_a, found = judged.circuit.number("nominal"), judged.circuit.number("current"), []
    if volts is None or load_a is None:
        return ()
    for part in judged.parts:
        wire = part.part.kind is PartKind.WIRE
        ohm = wire_ohm(part.part) if wire else part_ohm(part.part, load_a)
        if ohm is None:
            return ()
        volts -= load_a * ohm
        found.append(VoltsAfter(part.part.name, volts, load_a * ohm))
    return tuple(found)


def most_drop_v(judged: Judged) -> float | None:
    """Return the volts that may be lost up to the load: what the wire may, and the parts; None if it was not judged."""
    drops = [f for p in judged.parts if (f := p.finding("voltage-drop")) is not None and f.limits]
    nominal_v, load_a = judged.circuit.number("nominal"), judged.circuit.number("current")
    if not drops or nominal_v is None or load_a is None:
        return None
    return nominal_v * drops[0].limits[0].value / 100 + load_a * parts_ohm(judged.circuit)
