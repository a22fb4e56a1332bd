"""The same circuit with another wire size: one row for each size near the planned one."""

from dataclasses import dataclass

from engine.finding import Verdict, worst
from engine.plan.circuit import Circuit, Part
from engine.plan.judged import judge_circuit
from engine.plan.wires import sizes_like
from engine.procedure.model_circuit import PartKind
from engine.trade.conductor import area_mm2, copper_mass_kg


@dataclass(frozen=True, slots=True)
class Row:
    """One size: drop cold and hot [%], allowable current [A], copper [kg], worst verdict on the wire."""

    size: str
    drop_percent: float
    hot_drop_percent: float | None
    allowable_a: float | None
    copper_kg: float
    verdict: Verdict


def main_wire(circuit: Circuit) -> Part | None:
    """Return the longest wire of the circuit that has a size, or None."""
    wires = [p for p in circuit.of_kind(PartKind.WIRE) if p.word("size")]
    return max(wires, key=lambda p: (p.number("out") or 0) + (p.number("back") or 0), default=None)


def row(circuit: Circuit, wire: Part, size: str, profile_name: str) -> Row | None:
    """Return the row of one size, or None if its drop cannot be computed."""
    judged = judge_circuit(circuit.with_parts(wire.changed(size=size)), profile_name).of(wire.id)
    drop, heat = judged.finding("voltage-drop"), judged.finding("ampacity")
    percent = drop.values.get("drop_percent") if drop else None
    if drop is None or not isinstance(percent, float):
        return None
    hot, allowable = drop.values.get("hot_drop_percent"), heat.values.get("allowable_a") if heat else None
    length_m = (wire.number("out") or 0) + (wire.number("back") or 0)
    return Row(
        size,
        percent,
        hot if isinstance(hot, float) else None,
        float(allowable) if isinstance(allowable, int | float) else None,
        copper_mass_kg(area_mm2(size), length_m),
        worst(judged.findings),
    )


def rows_near(circuit: Circuit, profile_name: str, down: int = 1, up: int = 3) -> tuple[Row, ...]:
    """Return the rows of the planned size and its neighbours, small to large."""
    wire = main_wire(circuit)
    if wire is None:
        return ()
    sizes = sizes_like(wire.word("size"))
    at = _place(sizes, wire.word("size"))
    near = sizes[max(0, at - down) : at + up + 1]
    return tuple(r for size in near if (r := row(circuit, wire, size, profile_name)) is not None)


def _place(sizes: tuple[str, ...], label: str) -> int:
    if label in sizes:
        return sizes.index(label)
    area = area_mm2(label)
    return next((n for n, size in enumerate(sizes) if area_mm2(size) >= area), len(sizes) - 1)
