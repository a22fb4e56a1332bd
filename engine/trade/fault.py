"""Fault current: what flows at every point of a circuit when it is shorted there."""

from dataclasses import replace

from engine.trade.circuit import BANK_MINUS, Circuit
from engine.trade.equations import Equations
from engine.trade.ranges import OutOfRange


def fault_current_a(circuit: Circuit, point: str, other: str = BANK_MINUS) -> float:
    """Return the current of a dead short between two points, with the loads taken off [A].

    Args:
        circuit: The whole circuit [V, ohm].
        point: One point of it.
        other: The other point, the bank's minus if left out.

    Returns:
        The current through the short [A], infinite if nothing resists it.

    Raises:
        OutOfRange: if a point is not in the circuit.

    Source:
        Thevenin: open volts over inner resistance. Worked by hand: 24.9 V, 12 mohm and a loop of 21.43 mohm: 745 A.

    Example:
        >>> from engine.trade.circuit import Bank, Part, single_run
        >>> run = [Part(name="loop", ohm=0.02143)], []
        >>> round(fault_current_a(single_run(24, Bank(24.9, 0.012), *run, "motor", 48.0), "motor +"))
        745
    """
    bare = replace(circuit, loads=())
    for name in (point, other):
        if name != BANK_MINUS and name not in bare.points():
            raise OutOfRange(f'point is "{name}"; there are {BANK_MINUS}, {", ".join(bare.points())}')
    if point == other:
        raise OutOfRange(f"point is {point} twice; a short needs two points")
    equations = Equations(bare, {})
    return equations.short_a(point, other)


def fault_currents_a(circuit: Circuit) -> dict[str, float]:
    """Return the current of a dead short at every point of the plus side, and across every load [A].

    Args:
        circuit: The whole circuit [V, ohm].

    Returns:
        By point, the short to the bank's minus (the most a breaker there must interrupt); by load name, the short
        across its terminals (the least that must still trip it) [A].

    Raises:
        OutOfRange: if a part hangs in the air.

    Source:
        As ``fault_current_a``.

    Example:
        >>> from engine.trade.circuit import Bank, Part, single_run
        >>> run = [Part(name="red", ohm=0.01)], [Part(name="black", ohm=0.01)]
        >>> found = fault_currents_a(single_run(24, Bank(24.0, 0.01), *run, "motor", 48.0))
        >>> {name: round(amps) for name, amps in found.items()}
        {'bank +': 2400, 'motor +': 1200, 'motor': 800}
    """
    bare = replace(circuit, loads=())
    equations = Equations(bare, {})
    live = [point for point, volts in equations.open_volts().items() if volts > 1e-9 * circuit.bank.open_circuit_v]
    found = {point: equations.short_a(point, BANK_MINUS) for point in live}
    return found | {load.name: equations.short_a(load.plus, load.minus) for load in circuit.loads}
