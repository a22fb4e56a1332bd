"""What a bank can push into a short: open-circuit volts and inner resistance from what is printed on its batteries."""

from engine.finding import Value
from engine.plan.circuit import Circuit
from engine.published.tables import number, table
from engine.trade.protection import internal_from_cranking_ohm

BATTERY_NOMINAL_V = 12.0
"""Nominal volts of one battery where the facts do not say [V]. Source: common practice, no source."""


def bank_fault_figures(circuit: Circuit) -> dict[str, Value]:
    """Return ``open_circuit`` [V] and ``internal`` [ohm] of the bank, as measured or from labels; None where unknown.

    A series string adds the volts and the resistances of its batteries. The inner resistance comes from the maker's
    short-circuit figure if there is one, else from the cranking amperes (an estimate: good for "does it trip").
    """
    nominal = circuit.shared("nominal")
    if not isinstance(nominal, int | float) or isinstance(nominal, bool):
        return {"open_circuit": None, "internal": None}
    single_v = circuit.shared("battery_nominal") or BATTERY_NOMINAL_V
    in_series = max(1, round(float(nominal) / float(single_v))) if isinstance(single_v, int | float) else 1
    open_circuit = circuit.shared("open_circuit")
    volts = float(open_circuit) if isinstance(open_circuit, int | float) else float(nominal) * full_share()
    return {"open_circuit": volts, "internal": _internal_ohm(circuit, volts, in_series)}


def _internal_ohm(circuit: Circuit, volts: float, in_series: int) -> float | None:
    known, short_a, cranking_a = (circuit.shared(name) for name in ("internal", "short_circuit", "cranking"))
    if isinstance(known, int | float):
        return float(known)
    if isinstance(short_a, int | float) and short_a > 0:
        return volts / float(short_a)
    if isinstance(cranking_a, int | float) and cranking_a > 0:
        return in_series * internal_from_cranking_ohm(volts / in_series, float(cranking_a))
    return None


def full_share() -> float:
    """Return rest volts of a full lead-acid battery over its nominal 12 V (no unit), from the printed table."""
    rows = table("battery", "lead_acid_rest").rows
    return max(number(row, "rest_v") for row in rows) / BATTERY_NOMINAL_V
