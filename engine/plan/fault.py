"""What a bank can push into a short: open-circuit volts and inner resistance from what is printed on its batteries."""

from engine.finding import Value
from engine.plan.circuit import Circuit
from engine.published.tables import number, table
from engine.trade.protection import internal_from_cranking_ohm
from engine.trade.ranges import OutOfRange

BLOCK_V = 12.0
"""Volts of the six cells that a cranking test is defined for [V]. Source: SAE J537, as quoted (7.2 V at the end)."""


def bank_fault_figures(circuit: Circuit) -> dict[str, Value]:
    """Return ``open_circuit`` [V] and ``internal`` [ohm] of the bank, as measured or from labels; None where unknown.

    Empty if the circuit asks for none of them: nothing is then judged by fault current.

    A series string adds the volts and the resistances of its batteries. The inner resistance comes from the maker's
    short-circuit figure if there is one, else from the cranking amperes (an estimate: good for "does it trip").
    """
    if not any(name in part.figures for part in circuit.parts for name in ("internal", "short_circuit", "cranking")):
        return {}
    nominal = circuit.shared("nominal")
    if not isinstance(nominal, int | float) or isinstance(nominal, bool):
        return {"open_circuit": None, "internal": None}
    open_circuit = circuit.shared("open_circuit")
    volts = float(open_circuit) if isinstance(open_circuit, int | float) else float(nominal) * full_share()
    return {"open_circuit": volts, "internal": _internal_ohm(circuit, volts, float(nominal) / BLOCK_V)}


def _internal_ohm(circuit: Circuit, volts: float, blocks: float) -> float | None:
    known, short_a, cranking_a = (circuit.shared(name) for name in ("internal", "short_circuit", "cranking"))
    if isinstance(known, int | float):
        return float(known)
    if isinstance(short_a, int | float) and short_a > 0:
        return volts / float(short_a)
    if not isinstance(cranking_a, int | float) or cranking_a <= 0:
        return None
    try:
        return blocks * internal_from_cranking_ohm(volts / blocks, float(cranking_a))
    except OutOfRange:
        return None


def full_share() -> float:
    """Return rest volts of a full lead-acid battery over its nominal 12 V (no unit), from the printed table."""
    rows = table("battery", "lead_acid_rest").rows
    return max(number(row, "rest_v") for row in rows) / BLOCK_V
