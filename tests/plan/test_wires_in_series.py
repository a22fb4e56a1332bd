"""Two wires of different size in one run: what the plan says of both together, cold and with the load on."""

import pytest

from engine.plan.circuit import Circuit, Part
from engine.plan.judged import judge_circuit
from engine.procedure.model_circuit import PartKind
from engine.trade.circuit import Bank, Wire, single_run
from engine.trade.solver import solve, solve_hot

LOAD_A, NOMINAL_V = 40.0, 24.0
PIECES = (("8 AWG", 3.0), ("6 AWG", 2.5))


def two_wires() -> Circuit:
    wires = [
        Part(size, PartKind.WIRE, size, {"size": size, "out": length_m, "back": length_m, "insulation": 105.0})
        for size, length_m in PIECES
    ]
    load = Part("motor", PartKind.LOAD, "motor", {"current": LOAD_A, "nominal": NOMINAL_V, "class": "bow-motor"})
    return Circuit((*wires, load))


@pytest.mark.parametrize(("value", "solved"), [("drop_v", solve), ("hot_drop_v", solve_hot)])
def test_either_wire_shows_the_drop_of_the_whole_run_as_the_solver_finds_it(value, solved) -> None:
    # The solver is held against an independent circuit simulator in the trade's own tests.
    out, back = ([Wire(name=f"{size} {way}", size=size, length_m=m) for size, m in PIECES] for way in ("out", "back"))
    found = solved(single_run(NOMINAL_V, Bank(NOMINAL_V), out, back, "motor", LOAD_A))
    lost_v = found.loads[0].drop_v
    judged = judge_circuit(two_wires(), "industry")
    for size, _ in PIECES:
        told = judged.of(size).finding("voltage-drop")
        assert told is not None
        assert told.values[value] == pytest.approx(lost_v, rel=1e-6)
