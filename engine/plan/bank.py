"""A bank from what is printed on its batteries: strings side by side, volts at rest, inner resistance."""

from engine.finding import Value
from engine.plan.circuit import Circuit
from engine.published.tables import number, table
from engine.trade.protection import internal_from_cranking_ohm
from engine.trade.ranges import OutOfRange

BLOCK_V = 12.0
"""Volts of the six cells, or four of lithium, that the tables are for [V]. Source: SAE J537, as quoted."""

REST = {"lead": ("lead_acid_rest", "rest_v", 50.0, 100.0), "lithium": ("lifepo4_rest", "four_cells_v", 29.72, 98.33)}
"""By chemistry: the table of rest volts and its column, the rows of a half-charged and of a full battery [%]."""


def bank_figures(circuit: Circuit) -> dict[str, Value]:
    """Return the figures of the bank that checks ask for, as measured or from labels; None where one is not known.

    ``parallel`` [count], ``chemistry``; ``full`` and ``half_charged`` [V] at rest; and where the circuit asks for one
    of them, ``open_circuit`` [V], ``internal`` [ohm] and ``electronics`` [A]: without, no short is judged. A series
    string adds the volts and the resistances of its batteries; strings side by side share the current.
    """
    chemistry = "lithium" if circuit.shared("chemistry") in ("lithium", "lifepo4") else "lead"
    nominal_v = circuit.number("nominal")
    half_v, full_v = (None if nominal_v is None else nominal_v / BLOCK_V * _rest_v(chemistry, at) for at in (0, 1))
    strung = strings(circuit)
    found: dict[str, Value] = {"parallel": strung, "chemistry": chemistry, "half_charged": half_v, "full": full_v}
    if not any(circuit.declares(name) for name in ("internal", "short_circuit", "cranking")):
        return found
    at_rest_v = circuit.number("open_circuit") or full_v
    limit_a = circuit.number("electronics")
    return found | {
        "open_circuit": at_rest_v,
        "internal": _internal_ohm(circuit, at_rest_v, strung, chemistry),
        "electronics": limit_a * strung if limit_a and strung else None,
    }


def strings(circuit: Circuit) -> float | None:
    """Return how many strings of batteries stand side by side [count], None if that is asked for and not known.

    One where the circuit does not count batteries. A count that makes no whole string is not known.
    """
    if not circuit.declares("batteries"):
        return 1.0
    batteries, each_v, nominal_v = (circuit.number(n) for n in ("batteries", "battery_nominal", "nominal"))
    if batteries is None or each_v is None or not nominal_v:
        return None
    found = batteries * each_v / nominal_v
    return found if found >= 1 and found == round(found) else None


def _internal_ohm(circuit: Circuit, rest_v: float | None, strung: float | None, chemistry: str) -> float | None:
    """Return the bank's resistance [ohm]: as told, from the maker's short-circuit figure, else from cranking amps."""
    known, short_a, cranking_a = (circuit.number(name) for name in ("internal", "short_circuit", "cranking"))
    nominal_v = circuit.number("nominal")
    if known is not None or rest_v is None or strung is None or not nominal_v:
        return known
    if short_a:
        return rest_v / (short_a * strung)
    if not cranking_a or chemistry != "lead":
        return None
    blocks = nominal_v / BLOCK_V
    try:
        return blocks * internal_from_cranking_ohm(rest_v / blocks, cranking_a) / strung
    except OutOfRange:
        return None


def _rest_v(chemistry: str, at: int) -> float:
    """Return rest volts of 12 V, half charged or full [V], from the printed table."""
    name, column, *states = REST[chemistry]
    return number(table("battery", name).row(state_percent=states[at]), column)
