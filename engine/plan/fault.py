"""A bank from what is printed on its batteries: strings side by side, open-circuit volts and inner resistance."""

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

    A series string adds the volts and the resistances of its batteries; strings side by side share the current. The
    inner resistance comes from the maker's short-circuit figure if there is one, else from the cranking amperes (an
    estimate: good for "does it trip").
    """
    if not any(name in part.figures for part in circuit.parts for name in ("internal", "short_circuit", "cranking")):
        return {}
    nominal = circuit.shared("nominal")
    if not isinstance(nominal, int | float) or isinstance(nominal, bool):
        return {"open_circuit": None, "internal": None}
    open_circuit = circuit.shared("open_circuit")
    volts = float(open_circuit) if isinstance(open_circuit, int | float) else float(nominal) * full_share()
    return {"open_circuit": volts, "internal": _internal_ohm(circuit, volts, float(nominal) / BLOCK_V)}


def strings(circuit: Circuit) -> float | None:
    """Return how many strings of batteries stand side by side [count], None if that is asked for and not known.

    One where the circuit does not count batteries. A count that makes no whole string is not known.
    """
    if not any("batteries" in part.figures for part in circuit.parts):
        return 1.0
    batteries, each_v, nominal_v = (_number(circuit.shared(n)) for n in ("batteries", "battery_nominal", "nominal"))
    if batteries is None or each_v is None or not nominal_v:
        return None
    found = batteries * each_v / nominal_v
    return found if found >= 1 and found == round(found) else None


def _internal_ohm(circuit: Circuit, volts: float, blocks: float) -> float | None:
    known, short_a, cranking_a = (_number(circuit.shared(name)) for name in ("internal", "short_circuit", "cranking"))
    side_by_side = strings(circuit)
    if known is not None:
        return known
    if side_by_side is None:
        return None
    if short_a:
        return volts / (short_a * side_by_side)
    if not cranking_a:
        return None
    try:
        return blocks * internal_from_cranking_ohm(volts / blocks, cranking_a) / side_by_side
    except OutOfRange:
        return None


def full_share() -> float:
    """Return rest volts of a full lead-acid battery over its nominal 12 V (no unit), from the printed table."""
    rows = table("battery", "lead_acid_rest").rows
    return max(number(row, "rest_v") for row in rows) / BLOCK_V


def _number(value: Value) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
