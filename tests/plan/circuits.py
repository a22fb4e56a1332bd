"""Circuits at random, as people meet them: one to three wires, a breaker, a plug or two, a bank, a load."""

from random import Random

from engine.finding import Value
from engine.plan.circuit import Circuit, Part
from engine.procedure.model_circuit import PartKind

AWG = ("16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG")
METRIC = ("1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2", "25 mm2")
RATINGS = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0)


def circuit(chance: Random, wires: int = 0) -> Circuit:
    """Return a circuit whose figures are all known; ``wires`` fixes their number."""
    nominal_v = chance.choice((12.0, 24.0, 24.0, 36.0, 48.0))
    load_a = round(10 ** chance.uniform(0.0, 1.9), 1)
    sizes = chance.choice((AWG, AWG, METRIC))
    count = wires or chance.choice((1, 1, 1, 2, 3))
    return Circuit((
        Part("bank", PartKind.BANK, "bank", bank(chance, nominal_v)),
        Part("breaker", PartKind.PROTECTION, "breaker", breaker(chance, nominal_v, load_a)),
        *(Part(f"run {n}", PartKind.WIRE, f"run {n}", wire(chance, sizes)) for n in range(count)),
        Part("receptacle", PartKind.RECEPTACLE, "receptacle", device(chance, load_a)),
        Part("switch", PartKind.SWITCH, "switch", device(chance, load_a)),
        Part("load", PartKind.LOAD, "motor", load(chance, nominal_v, load_a)),
    ))  # fmt: skip


def bank(chance: Random, nominal_v: float) -> dict[str, Value]:
    lithium = chance.random() < 0.2
    short_a = chance.choice((2000.0, 6000.0)) if lithium or nominal_v > 24 else None
    return {
        "nominal": nominal_v,
        "batteries": nominal_v / 12.0 * chance.choice((1.0, 1.0, 2.0)),
        "battery_nominal": 12.0,
        "chemistry": "lifepo4" if lithium else "lead",
        "cranking": None if lithium else chance.choice((400.0, 650.0, 800.0, 1000.0)),
        "short_circuit": short_a,
        "electronics": chance.choice((None, 300.0)) if lithium else None,
    }


def breaker(chance: Random, nominal_v: float, load_a: float) -> dict[str, Value]:
    return {
        "fitted": chance.choice((None, 0.0, *near(chance, load_a))),
        "distance": round(chance.uniform(0.05, 2.2), 3),
        "sheathed": chance.random() < 0.5,
        "at_battery": chance.random() < 0.5,
        "volts": chance.choice((14.0, 32.0, 48.0, 80.0)),
        "interrupting": chance.choice((1000.0, 3000.0, 5000.0, 10000.0)),
        "manual_reset": chance.random() < 0.9,
        "trip_free": chance.random() < 0.9,
        "ignition_protected": chance.random() < 0.5,
        "fuel_vapour": chance.random() < 0.2,
        "ambient": chance.choice((None, None, 45.0, 60.0)),
    }


def near(chance: Random, load_a: float) -> list[float]:
    """Return three ratings about a load."""
    fits = sorted(RATINGS, key=lambda rating: abs(rating - 1.2 * load_a))[:4]
    return chance.sample(fits, 3)


def wire(chance: Random, sizes: tuple[str, ...]) -> dict[str, Value]:
    return {
        "size": chance.choice(sizes),
        "out": round(10 ** chance.uniform(-0.5, 1.1), 2),
        "back": round(10 ** chance.uniform(-0.5, 1.1), 2),
        "insulation": chance.choice((75.0, 90.0, 105.0)),
        "engine_space": chance.random() < 0.2,
        "bundled": chance.choice((2.0, 2.0, 3.0, 7.0)),
    }


def device(chance: Random, load_a: float) -> dict[str, Value]:
    return {"rating": chance.choice(near(chance, load_a)), "ambient": chance.choice((None, None, 50.0))}


def load(chance: Random, nominal_v: float, load_a: float) -> dict[str, Value]:
    return {
        "current": load_a,
        "nominal": nominal_v,
        "class": chance.choice(("bow-motor", "critical", "ordinary")),
        "continuous": chance.random() < 0.8,
        "least_volts": chance.choice((None, None, round(0.88 * nominal_v, 1))),
    }
