"""The solved circuit: volts at every point, current, drop, heat and loading of every part."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.trade.ampacity import working_temperature_c
from engine.trade.circuit import BANK_PLUS, Circuit, Draws, Load, Piece, Wire
from engine.trade.equations import SOURCE, Equations
from engine.trade.ranges import OutOfRange

_ROUNDS = 60
_SETTLED = 1e-13
"""Relative change at which Newton's rounds end. Source: some ulps of an IEEE 754 double."""


@dataclass(frozen=True, slots=True)
class PartResult:
    """One piece of the solved circuit. ``loading`` is current over rating, None if it has no rating."""

    piece: Piece
    ohm: float
    temperature_c: float | None
    current_a: float
    drop_v: float
    power_w: float
    rating_a: float | None
    loading: float | None

    @property
    def heat_ratio(self) -> float | None:
        """Its heat as a multiple of its heat at its rating (Joule's law)."""
        return None if self.loading is None else self.loading**2


@dataclass(frozen=True, slots=True)
class LoadResult:
    """One load of the solved circuit. ``drop_v`` is the bank's terminal volts less the load's."""

    load: Load
    volts: float
    current_a: float
    drop_v: float


@dataclass(frozen=True, slots=True)
class Solution:
    """The solved circuit. ``volts`` are by point, from the bank's minus."""

    circuit: Circuit
    volts: Mapping[str, float]
    parts: tuple[PartResult, ...]
    loads: tuple[LoadResult, ...]
    bank_current_a: float

    @property
    def bank_v(self) -> float:
        """Volts at the bank's posts."""
        return self.volts[BANK_PLUS]

    @property
    def weakest_by_heat(self) -> PartResult | None:
        """The part with the highest loading; None if no part has a rating."""
        rated = [part for part in self.parts if part.loading is not None]
        return max(rated, key=lambda part: part.loading or 0.0, default=None)

    @property
    def weakest_by_drop(self) -> PartResult | None:
        """The part that loses most volts; None if there is no part."""
        return max(self.parts, key=lambda part: part.drop_v, default=None)

    def drop_percent(self, load_name: str = "") -> float:
        """Return the drop at a load in percent of the nominal volts [%].

        Args:
            load_name: The load's name; the worst one if left out.

        Returns:
            The bank's terminal volts less the load's, over nominal [%].

        Raises:
            OutOfRange: if no load has that name.

        Source:
            Its definition.

        Example:
            >>> from engine.trade.circuit import Bank, Part, single_run
            >>> found = solve(single_run(12, Bank(12.0), [Part(name="run", ohm=0.03)], [], "lamp", 4.0))
            >>> round(found.drop_percent("lamp"), 9)
            1.0
        """
        drops = [found.drop_v for found in self.loads if load_name in ("", found.load.name)]
        if not drops:
            raise OutOfRange(f'load is "{load_name}"; there are {", ".join(x.load.name for x in self.loads)}')
        return 100 * max(drops) / self.circuit.nominal_v


def solve(circuit: Circuit) -> Solution:
    """Return the circuit solved with its wires at 29.3 degC, or at their own fixed temperature.

    Args:
        circuit: The whole circuit [V, ohm, A, W, m].

    Returns:
        Volts, currents, drops, heat and loading [V, A, W].

    Raises:
        OutOfRange: if a part hangs in the air, a number lies outside its range, or a load asks for more power than
            the run can deliver.

    Source:
        Kirchhoff's and Ohm's laws, solved exactly; constant power by Newton's rounds.

    Example:
        >>> from engine.trade.circuit import Bank, single_run
        >>> run = [Wire(name="red", size="8 AWG", length_m=5.2)], [Wire(name="black", size="8 AWG", length_m=5.2)]
        >>> round(solve(single_run(24, Bank(25.0), *run, "motor", 48.0)).drop_percent(), 2)
        4.44
    """
    return _solved(circuit, {})


def solve_hot(circuit: Circuit) -> Solution:
    """Return the circuit solved with each wire at the temperature that its own current brings it to.

    Args:
        circuit: The whole circuit [V, ohm, A, W, m].

    Returns:
        As ``solve``; each wire's temperature stands in its result [degC].

    Raises:
        OutOfRange: as ``solve``, or if a wire would be hotter than 300 degC.

    Source:
        T = ambient + (insulation - 30)(I / I_allow)^2 by wire, repeated until it no longer changes. A wire that no row
        is printed for is taken at its insulation's own temperature.

    Example:
        >>> from engine.trade.circuit import Bank, single_run
        >>> run = [Wire(name="red", size="8 AWG", length_m=5.2)], [Wire(name="black", size="8 AWG", length_m=5.2)]
        >>> round(solve_hot(single_run(24, Bank(25.0), *run, "motor", 48.0)).drop_percent(), 2)
        4.91
    """
    temperatures: dict[str, float] = {}
    for _ in range(_ROUNDS):
        solution = _solved(circuit, temperatures)
        warmer = {part.piece.name: _warm(part) for part in solution.parts if isinstance(part.piece, Wire)}
        if all(abs(warmer[name] - temperatures.get(name, -300.0)) < 1e-9 for name in warmer):
            return solution
        temperatures = warmer
    raise OutOfRange("the wires grow hotter without end; the load is more than they can carry")


def _warm(part: PartResult) -> float:
    wire = part.piece
    assert isinstance(wire, Wire)
    if wire.temperature_c is not None:
        return wire.temperature_c
    allowable_a = wire.bundled_allowable_a()
    if allowable_a is None:
        return float(wire.insulation_c)
    return working_temperature_c(abs(part.current_a), allowable_a, wire.insulation_c, wire.ambient_c)


def _solved(circuit: Circuit, temperatures: Mapping[str, float]) -> Solution:
    equations = Equations(circuit, temperatures)
    steady = [load for load in circuit.loads if load.draws is Draws.POWER]
    guess = {load.name: circuit.bank.open_circuit_v for load in steady}
    for _ in range(_ROUNDS):
        volts, through = equations.solved(guess)
        now = {load.name: volts[load.plus] - volts[load.minus] for load in steady}
        _refuse_collapse(circuit, now)
        if all(abs(now[name] - guess[name]) <= _SETTLED * circuit.bank.open_circuit_v for name in now):
            return _result(equations, volts, through)
        guess = now
    raise _too_much(steady)


def _refuse_collapse(circuit: Circuit, volts: Mapping[str, float]) -> None:
    if any(v <= 0 for v in volts.values()):
        raise _too_much([load for load in circuit.loads if load.draws is Draws.POWER])


def _too_much(steady: list[Load]) -> OutOfRange:
    asked = ", ".join(f"{load.name} {load.amount:g} W" for load in steady)
    return OutOfRange(f"power is {asked}; it must be less than the bank and the run can deliver")


def _result(equations: Equations, volts: Mapping[str, float], through: Mapping[str, float]) -> Solution:
    circuit = equations.circuit
    parts = tuple(_part(p, equations, volts, through) for p in circuit.pieces)
    bank_v = volts[BANK_PLUS]
    loads = tuple(_load(load, volts, bank_v) for load in circuit.loads)
    return Solution(circuit, volts, parts, loads, through[SOURCE])


def _part(piece: Piece, equations: Equations, volts: Mapping[str, float], through: Mapping[str, float]) -> PartResult:
    drop_v = volts[piece.start] - volts[piece.end]
    ohm = equations.ohms[piece.name]
    current_a = through[piece.name] if ohm == 0 else drop_v / ohm
    rating_a = piece.rating_a()
    loading = None if rating_a is None else abs(current_a) / rating_a
    heat_w = abs(current_a * drop_v)
    return PartResult(piece, ohm, equations.metal_c(piece), current_a, abs(drop_v), heat_w, rating_a, loading)


def _load(load: Load, volts: Mapping[str, float], bank_v: float) -> LoadResult:
    across = volts[load.plus] - volts[load.minus]
    drawn = {Draws.CURRENT: lambda: load.amount, Draws.POWER: lambda: load.amount / across}
    current_a = drawn.get(load.draws, lambda: across / load.amount)()
    return LoadResult(load, across, current_a, bank_v - across)
