"""The circuit of a log: each part with its figures and verdict as found and as planned, and the volts along the run."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.plan.circuit import Part
from engine.plan.judged import Judged, JudgedPart
from engine.plan.plan import Plan
from engine.procedure.model import Operand, PartKind, Procedure, Reference
from engine.quantity import show
from engine.review.readings import shown
from engine.session.state import State

_SHORT: Mapping[PartKind, tuple[tuple[str, str], ...]] = {
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
class DrawnPart:
    """One part to draw: figures in short and verdict (empty if nothing was judged), as found and as planned."""

    kind: str
    name: str
    found: str
    found_verdict: str
    planned: str
    planned_verdict: str


@dataclass(frozen=True, slots=True)
class Volts:
    """The volts after one part at full load [V], and what the part loses [V]."""

    name: str
    volts: float
    lost: float


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One figure of the circuit sheet: part, what it is, its value as found and as planned, how each is known."""

    part: str
    ask: str
    found: str
    planned: str


def drawn_parts(plan: Plan) -> tuple[DrawnPart, ...]:
    """Return the parts of the circuit in order from the source."""
    pairs = zip(plan.found.parts, plan.planned.parts, strict=True)
    return tuple(
        DrawnPart(str(p.part.kind), p.part.name, _short(f.part), _verdict(f), _short(p.part), _verdict(p))
        for f, p in pairs
    )


def volts_along(judged: Judged) -> tuple[Volts, ...]:
    """Return the volts after each part at full load, from the nominal volts of the source; empty if they are unknown.

    Source:
        Ohm's law over each wire, at the temperature of the verdict on the drop.
    """
    nominal, load = judged.circuit.shared("nominal"), judged.circuit.shared("current")
    if not isinstance(nominal, int | float) or not isinstance(load, int | float):
        return ()
    volts, rows = float(nominal), list[Volts]()
    for part in judged.parts:
        lost_v = float(load) * _ohm(part)
        volts -= lost_v
        rows.append(Volts(part.part.name, volts, lost_v))
    return tuple(rows)


def allowed_drop_percent(judged: Judged) -> float | None:
    """Return the least drop limit that any wire was held against [%], None if none was."""
    found = [part.finding("voltage-drop") for part in judged.parts]
    return min((limit.value for f in found if f for limit in f.limits if limit.unit == "%"), default=None)


def sheet_rows(procedure: Procedure, state: State) -> tuple[SheetRow, ...]:
    """Return the circuit sheet: every figure that was given, with the four kinds of knowing kept apart."""
    rows = list[SheetRow]()
    for part in procedure.circuit:
        if part.when is not None and part.when.holds(state.values()) is not True:
            continue
        for name in dict.fromkeys((*part.found, *part.planned)):
            found, planned = (_told(procedure, state, side.get(name)) for side in (part.found, part.planned))
            if found or planned:
                rows.append(
                    SheetRow(
                        part.name, _ask(procedure, part.planned.get(name) or part.found[name], name), found, planned
                    )
                )
    return tuple(rows)


def _told(procedure: Procedure, state: State, operand: Operand | None) -> str:
    if not isinstance(operand, Reference):
        return ""
    given = [(i, state.given[i].taken) for i in operand.ids if i in state.given and i in procedure.entry_by_id]
    return "; ".join(f"{shown(procedure.entry_by_id[i], taken)} ({taken.known})" for i, taken in given)


def _ask(procedure: Procedure, operand: Operand, otherwise: str) -> str:
    entry = procedure.entry_by_id.get(operand.ids[0]) if isinstance(operand, Reference) else None
    return entry.ask if entry else otherwise


def _short(part: Part) -> str:
    words = list[str]()
    for name, unit in _SHORT[part.kind]:
        value = part.figures.get(name)
        if isinstance(value, str):
            words.append(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            words.append(f"{show(float(value), unit, both=False)}{f' {name}' if name in ('out', 'back') else ''}")
    return ", ".join(words)


def _verdict(part: JudgedPart) -> str:
    return str(part.verdict) if part.findings else ""


def _ohm(judged: JudgedPart) -> float:
    drop = judged.finding("voltage-drop")
    if judged.part.kind is PartKind.WIRE and drop is not None:
        loop, extra = drop.values.get("loop_ohm"), drop.inputs.get("extra")
        own = float(loop) if isinstance(loop, int | float) else 0.0
        return own - (float(extra) if isinstance(extra, int | float) else 0.0)
    return judged.part.number("resistance") or 0.0
