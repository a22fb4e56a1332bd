"""The circuit solver against an independent circuit simulator, on random circuits."""

import re
import shutil
import subprocess

import pytest

from engine.trade.circuit import BANK_MINUS, BANK_PLUS, Circuit, Draws, Load
from engine.trade.solver import Solution, solve
from tests.tools import absent
from tests.trade.circuits_at_random import random_circuit

SEEDS = range(220)
RELATIVE = 1e-6
LEAST_V = 3.0
"""Keeps the simulator's first guess away from a division by zero; every solved load stands far above it."""


def _simulator() -> str:
    found = shutil.which("ngspice")
    if absent("ngspice", there=found is not None):
        pytest.skip("ngspice is not installed here: it is the outside check, and the automatic run has it")
    return str(found)


def _element(number: int, place: int, names: dict[str, str], load: Load) -> str:
    plus, minus = names[load.plus], names[load.minus]
    if load.draws is Draws.CURRENT:
        return f"IL{number}_{place} {plus} {minus} {load.amount!r}"
    if load.draws is Draws.RESISTANCE:
        return f"RL{number}_{place} {plus} {minus} {load.amount!r}"
    across = f"max(v({plus})-v({minus}),{LEAST_V})"
    return f"BL{number}_{place} {plus} {minus} I={load.amount!r}/{across}"


def _netlist(number: int, circuit: Circuit) -> list[str]:
    """Return one circuit as lines; its points are named by number so that many circuits stand in one file."""
    names = {point: f"c{number}n{place}" for place, point in enumerate(circuit.points())}
    names[BANK_MINUS] = "0"
    lines = [f"VB{number} c{number}emf 0 {circuit.bank.open_circuit_v!r}"]
    inner = circuit.bank.internal_ohm
    kind = f"RB{number}" if inner else f"VZB{number}"
    lines.append(f"{kind} c{number}emf {names[BANK_PLUS]} {inner!r}")
    for place, piece in enumerate(circuit.pieces):
        ohm = piece.resistance_ohm()
        kind = f"R{number}_{place}" if ohm else f"VZ{number}_{place}"
        lines.append(f"{kind} {names[piece.start]} {names[piece.end]} {ohm!r}")
    lines += [_element(number, place, names, load) for place, load in enumerate(circuit.loads)]
    starts = {name: circuit.bank.open_circuit_v for name in names.values() if name != "0"}
    for load in circuit.loads:
        starts[names[load.minus]] = 0.0
    return lines + [f".nodeset v({name})={volts!r}" for name, volts in starts.items() if name != "0"]


@pytest.fixture(scope="module")
def simulated(tmp_path_factory: pytest.TempPathFactory) -> dict[str, float]:
    """Volts by point name of every circuit, from one run of the simulator."""
    folder = tmp_path_factory.mktemp("simulated")
    lines = ["random circuits"]
    for number in SEEDS:
        lines += _netlist(number, random_circuit(number))
    lines += [
        ".options reltol=1e-8 abstol=1e-8 vntol=1e-8 itl1=500",
        ".control",
        "set numdgt=15",
        "op",
        "print all",
        "quit",
        ".endc",
        ".end",
    ]
    (folder / "all.cir").write_text("\n".join(lines) + "\n")
    ran = subprocess.run(
        [_simulator(), "-b", "all.cir"], cwd=folder, capture_output=True, text=True, timeout=300, check=False
    )
    found = re.findall(r"^(c\d+n\d+) = (\S+)", ran.stdout, re.MULTILINE)
    assert found, ran.stdout[-2000:] + ran.stderr[-2000:]
    return {name: float(value) for name, value in found}


def _worst(number: int, solution: Solution, simulated: dict[str, float]) -> float:
    points = solution.circuit.points()
    full = solution.circuit.bank.open_circuit_v
    pairs = [(solution.volts[point], simulated[f"c{number}n{place}"]) for place, point in enumerate(points)]
    return max(abs(ours - theirs) / max(abs(theirs), 1e-3 * full) for ours, theirs in pairs)


@pytest.mark.parametrize("number", SEEDS)
def test_every_point_has_the_simulators_volts(number: int, simulated: dict[str, float]) -> None:
    assert _worst(number, solve(random_circuit(number)), simulated) < RELATIVE


def test_the_circuits_hold_every_kind_of_load_and_a_shared_return() -> None:
    circuits = [random_circuit(number) for number in SEEDS]
    kinds = {load.draws for circuit in circuits for load in circuit.loads}
    shared = sum(len({load.minus for load in c.loads}) < len(c.loads) for c in circuits)

    assert kinds == set(Draws)
    assert shared > 20
