"""What a named check costs beside its bare formula, as ratios in one run: ``python tests/bench/bench_checks.py``.

The bare formula of a check is its sum on floats, as engine/trade has it: the values that it gives, and the uncertainty
U that its verdict needs. The check adds the ranges of its inputs, the bands, the sentences and the finding. A check
that only compares (a sign, yes or no) has no sum to be held against. Ends with 1 if a check misses ``GOAL``.
"""

import sys
import timeit
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from engine.published.profiles import profile
from engine.rules.ask import from_text
from engine.rules.check import Accuracy, Context
from engine.rules.measured import accuracy
from engine.rules.registry import check
from engine.trade.ampacity import bundle_factor, engine_space_factor, table_allowable_a
from engine.trade.bank import expected_bank_v, in_series, rest_window, spread_v
from engine.trade.conductor import area_mm2
from engine.trade.drop import run_drop
from engine.trade.heat import enough_current, heat_scale, scaled_difference_k
from engine.trade.joint import drop_at_v, joint_power_w, joint_resistance_ohm
from engine.trade.loading import heat_ratio, loading
from engine.trade.measured_drop import measured_drop
from engine.trade.opening import least_overlap_m
from engine.trade.protection import loop_fault_a, window
from engine.trade.reading import combined, expanded, half_width, quotient, same_meter_difference, standard
from engine.trade.solar import cold_open_circuit_v, design_current_a

GOAL = 20.0
BATCH, ROUNDS = 50, 400
CONTEXT = Context(profile())


def u_of(value: float, tool: Accuracy) -> float:
    """Return the standard uncertainty of one reading."""
    return standard(half_width(value, tool.percent, tool.counts, tool.resolution))


VOLTS, MILLIVOLTS, CLAMP, THERMOMETER, CALIPER = (
    accuracy("", tool, CONTEXT) for tool in ("dmm_v", "dmm_mv", "clamp", "tc", "cal")
)


def joint() -> object:
    """Return millivolts, watts and U of a joint at rated current."""
    ohm = joint_resistance_ohm(0.028, 48.0)
    u = expanded(quotient(0.028, u_of(0.028, MILLIVOLTS), 48.0, u_of(48.0, CLAMP)) * 48.0)
    return drop_at_v(ohm, 48.0), joint_power_w(ohm, 48.0), u, u * 48.0


def heat() -> object:
    """Return both scaled differences of two terminals, each with its U."""
    enough_current(44.0, 48.0)
    found = []
    for hotter, cooler in ((31.0, 30.0), (31.0, 22.0)):
        scaled = scaled_difference_k(hotter, cooler, 44.0, 48.0)
        pair = combined([u_of(hotter, THERMOMETER), u_of(cooler, THERMOMETER)]) * heat_scale(44.0, 48.0)
        found.append((scaled, expanded(combined([pair, 2 * scaled * u_of(44.0, CLAMP) / 44.0]))))
    return found


def measured() -> object:
    """Return the excess over the wire's own drop, with its U."""
    u = same_meter_difference(24.8, 23.7, VOLTS.percent, VOLTS.counts, VOLTS.resolution)
    found = measured_drop(1.1, u, 46.0, u_of(46.0, CLAMP), 48.0, 0.0215)
    return found, expanded(found.excess_u_v)


def bank() -> object:
    """Return the bank's sum and spread, with U of both."""
    volts = (12.66, 12.68)
    series, digits = in_series(2, 1), standard(half_width(0, 0, VOLTS.counts, VOLTS.resolution))
    off, spread = 25.34 - expected_bank_v(volts, 1), spread_v(volts)
    u_sum = expanded(combined([standard(half_width(off, VOLTS.percent, 0, 0)), *(digits,) * (1 + series)]))
    u_spread = expanded(combined([standard(half_width(spread, VOLTS.percent, 0, 0)), digits, digits]))
    return rest_window("lead", 12.0), off, u_sum, spread, u_spread


def hole() -> object:
    """Return the least overlap of a flange, with its U."""
    half = 0.5 * u_of(0.033, CALIPER)
    return least_overlap_m(0.048, 0.0345, 0.033), expanded(combined([half, half, u_of(0.0345, CALIPER)]))


def solar() -> object:
    """Return design current and cold volts of a string."""
    return design_current_a(9.5, 2.0), cold_open_circuit_v(22.0, -10.0, 0.3)


SUMS: dict[str, tuple[Mapping[str, str], Callable[[], object]]] = {
    "ampacity": (
        {"load": "48 A", "size": "8 AWG", "engine_space": "yes", "bundled": "4"},
        lambda: (
            loading(48.0, table_allowable_a("8 AWG", 105.0) * engine_space_factor(105.0) * bundle_factor(4.0)),
            area_mm2("8 AWG") < 1.0,
        ),
    ),
    "voltage-drop": (
        {
            "load": "48 A",
            "size": "8 AWG",
            "out": "5.2 m",
            "back": "5.2 m",
            "nominal": "24 V",
            "class": "bow-motor",
        },
        lambda: run_drop(48.0, "8 AWG", 5.2, 5.2, 105.0, 30.0, 2.0, 0.0),
    ),
    "protection-size": (
        {"load": "48 A", "allowable": "80 A", "device": "60 A", "fitted": "60 A"},
        lambda: window(48.0, 80.0, 60.0),
    ),
    "weakest-part": (
        {"load": "48 A", "ratings": "receptacle:60 A; plug:60 A; breaker:70 A"},
        lambda: [(loading(48.0, rated), heat_ratio(48.0, rated)) for rated in (60.0, 60.0, 70.0)],
    ),
    "bank": (
        {"batteries": "12.66 V; 12.68 V", "links": "1", "bank": "25.34 V", "chemistry": "lead", "rested": "rested"},
        bank,
    ),
    "hole": ({"largest": "34.5 mm", "smallest": "34 mm", "body": "33 mm", "flange": "48 mm", "enters": "yes"}, hole),
    "measured-drop": (
        {
            "source": "24.8 V",
            "at_load": "23.7 V",
            "current": "46 A",
            "rated": "48 A",
            "predicted": "21.5 mohm",
            "same_meter": "yes",
        },
        measured,
    ),
    "joint": ({"drop": "28 mV", "current": "48 A", "rated": "48 A"}, joint),
    "heat": (
        {
            "positive": "31 degC",
            "negative": "30 degC",
            "ambient": "22 degC",
            "current": "44 A",
            "rated": "48 A",
            "minutes": "10 min",
        },
        heat,
    ),
    "fault-current": (
        {"open_circuit": "25.3 V", "internal": "12 mohm", "loop": "22 mohm", "fitted": "60 A"},
        lambda: (loop_fault_a(25.3, 0.012, 0.022), loop_fault_a(25.3, 0.012, 0.0), expanded(u_of(25.3, VOLTS)) / 25.3),
    ),
    "solar": (
        {
            "isc": "9.5 A",
            "strings": "2",
            "voc": "22 V",
            "coldest": "-10 degC",
            "coefficient": "0.3 %",
            "controller_volts": "50 V",
            "controller_amps": "30 A",
        },
        solar,
    ),
}
"""A check with a sum: its inputs as typed, and its bare formula on the same figures."""


def seconds(*calls: Callable[[], object]) -> list[float]:
    """Return the best of many short rounds of each call, taken in turn so that a busy machine hurts all alike."""
    timers = [timeit.Timer(call) for call in calls]
    return [
        min(rounds) / BATCH for rounds in zip(*([t.timeit(BATCH) for t in timers] for _ in range(ROUNDS)), strict=True)
    ]


def main() -> int:
    """Print a line a check; return 1 if one misses the goal."""
    missed = 0
    for name, (typed, formula) in SUMS.items():
        found = check(name)
        given = from_text(found, typed)
        assert isinstance(given, dict), given
        whole, bare = seconds(partial(found.run, given, CONTEXT), formula)
        missed += whole / bare > GOAL
        times = f"{1e6 * whole:6.1f} us, bare formula {1e6 * bare:5.1f} us: {whole / bare:.1f} times"
        sys.stdout.write(f"{name:16} {times}\n")
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main())
