"""Random circuits for the solver's tests: runs of several sizes, joints, one or several loads, shared returns."""

import random

from engine.trade.circuit import BANK_MINUS, BANK_PLUS, Bank, Circuit, Draws, Load, Part, Piece, Wire

SIZES = ("16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "SAE 8", "6 AWG", "16 mm2", "4 AWG", "25 mm2", "1/0 AWG")
MATERIALS = ("copper", "copper", "copper", "aluminium", "copper-clad aluminium")


def random_circuit(seed: int) -> Circuit:
    """Return one circuit; the same seed gives the same circuit."""
    dice = random.Random(seed)
    nominal_v = dice.choice((12.0, 24.0, 36.0, 48.0))
    bank = Bank(nominal_v * dice.uniform(0.95, 1.15), dice.choice((0.0, dice.uniform(0.002, 0.03))))
    branches = dice.randint(1, 4)
    trunk_out = _way(dice, "trunk out", BANK_PLUS, "fork +")
    trunk_back = _way(dice, "trunk back", "fork -", BANK_MINUS)
    pieces, loads = [*trunk_out, *trunk_back], []
    for number in range(branches):
        plus, minus = f"load {number} +", f"load {number} -"
        shared = dice.random() < 0.4
        pieces += _way(dice, f"out {number}", "fork +", plus)
        pieces += [] if shared else _way(dice, f"back {number}", minus, "fork -")
        loads.append(_load(dice, number, plus, "fork -" if shared else minus, nominal_v))
    return Circuit(nominal_v, bank, tuple(pieces), tuple(loads))


def _way(dice: random.Random, name: str, start: str, end: str) -> list[Piece]:
    count = dice.randint(1, 4)
    points = [start, *(f"{name} {place}" for place in range(1, count)), end]
    return [_piece(dice, f"{name} part {i}", points[i], points[i + 1]) for i in range(count)]


def _piece(dice: random.Random, name: str, start: str, end: str) -> Piece:
    kind = dice.random()
    if kind < 0.15:
        return Part(name=name, start=start, end=end, ohm=0.0)
    if kind < 0.4:
        return Part(name=name, start=start, end=end, ohm=dice.uniform(0.0002, 0.01), rated_a=dice.uniform(20, 100))
    return Wire(
        name=name,
        start=start,
        end=end,
        size=dice.choice(SIZES),
        length_m=dice.uniform(0.05, 4.0),
        material=dice.choice(MATERIALS),
        temperature_c=dice.choice((None, dice.uniform(0, 100))),
    )


def _load(dice: random.Random, number: int, plus: str, minus: str, nominal_v: float) -> Load:
    draws = dice.choice(tuple(Draws))
    amperes = dice.uniform(0.5, 12)
    amounts = {Draws.CURRENT: amperes, Draws.POWER: amperes * nominal_v, Draws.RESISTANCE: nominal_v / amperes}
    return Load(name=f"load {number}", plus=plus, minus=minus, draws=draws, amount=amounts[draws])
