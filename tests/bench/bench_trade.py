"""How fast the trade's sums are, as ratios in one run: against unit-carrying quantities.

Run it with ``python tests/bench/bench_trade.py``. It prints ratios, and ends with 1 if a goal is missed.
"""

import sys
import timeit
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from pint import UnitRegistry

from engine.trade.ampacity import table_allowable_a
from engine.trade.circuit import Bank, Wire, single_run
from engine.trade.conductor import area_mm2
from engine.trade.drop import run_drop
from engine.trade.loading import heat_ratio
from engine.trade.solver import solve, solve_hot

PLAN_GOAL = 100.0

SEGMENTS = [(size, 0.3 + 0.1 * i) for i, size in enumerate(("8 AWG", "14 AWG", "6 AWG", "8 AWG", "4 AWG") * 2)]
"""Ten segments of a run, each with its one-way length in metres."""

LOAD_A, NOMINAL_V, AMBIENT_C, INSULATION_C = 48.0, 24.0, 30.0, 105.0


def plain_plan() -> tuple[float, float, float]:
    """Return drop, hot drop and worst heat ratio of the ten segments, on plain floats."""
    cold = hot = worst = 0.0
    for size, length in SEGMENTS:
        found = run_drop(LOAD_A, size, length, length)
        cold += found.drop_v
        hot += found.hot_drop_v or 0.0
        worst = max(worst, heat_ratio(LOAD_A, found.allowable_a or LOAD_A))
    return 100 * cold / NOMINAL_V, 100 * hot / NOMINAL_V, worst


def quantity_plan(units: UnitRegistry) -> tuple[float, float, float]:
    """Return the same three, with a unit on every number as a unit library carries it."""
    q = units.Quantity
    load, nominal = q(LOAD_A, "ampere"), q(NOMINAL_V, "volt")
    rho20, alpha = q(1 / 58, "ohm * millimeter ** 2 / meter"), q(0.00393, "1 / kelvin")
    cold, hot, worst = q(0.0, "volt"), q(0.0, "volt"), 0.0
    for size, length in SEGMENTS:
        area, way = q(area_mm2(size), "millimeter ** 2"), q(length, "meter") + q(length, "meter")
        allowed = q(table_allowable_a(size, INSULATION_C), "ampere")
        cold += (load * rho20 * (1 + alpha * (q(29.3, "kelvin") - q(20.0, "kelvin"))) * way / area).to("volt")
        share = (load / allowed).to("dimensionless")
        metal = q(AMBIENT_C, "kelvin") + (q(INSULATION_C, "kelvin") - q(30.0, "kelvin")) * share**2
        hot += (load * rho20 * (1 + alpha * (metal - q(20.0, "kelvin"))) * way / area).to("volt")
        worst = max(worst, (share**2).magnitude)
    return (100 * cold / nominal).magnitude, (100 * hot / nominal).magnitude, worst


def seconds(call: Callable[[], object]) -> float:
    """Return the best of several rounds, in seconds a call."""
    timer = timeit.Timer(call)
    number, _ = timer.autorange()
    return min(timer.repeat(7, max(1, number // 4))) / max(1, number // 4)


def report() -> bool:
    """Print the ratios and return whether every goal is met."""
    units = UnitRegistry()
    ours, theirs = plain_plan(), quantity_plan(units)
    assert all(abs(a - b) < 1e-9 * abs(b) for a, b in zip(ours, theirs, strict=True)), (ours, theirs)
    fast, slow = seconds(plain_plan), seconds(lambda: quantity_plan(units))
    good = slow / fast >= PLAN_GOAL
    say(f"plan of ten segments: {micro(fast)}, with quantities {micro(slow)}: {slow / fast:.0f} times faster")
    wires = [Wire(name=f"{size} {i}", size=size, length_m=length) for i, (size, length) in enumerate(SEGMENTS)]
    circuit = single_run(NOMINAL_V, Bank(25.0, 0.012), wires, [], "motor", 20.0)
    cold, hot = seconds(lambda: solve(circuit)), seconds(lambda: solve_hot(circuit))
    say(f"ten segments solved as a circuit: {micro(cold)}, hot {micro(hot)}")
    return good


def micro(duration_s: float) -> str:
    return f"{1e6 * duration_s:.1f} us"


def say(line: str) -> None:
    sys.stdout.write(line + "\n")


if __name__ == "__main__":
    sys.exit(0 if report() else 1)
