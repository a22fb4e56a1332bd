"""The equations of a circuit: Kirchhoff's current law at every point, and the parts that have no resistance."""

from collections.abc import Mapping

from engine.trade.circuit import BANK_MINUS, BANK_PLUS, Circuit, Draws, Load, Piece, Wire
from engine.trade.conductor import VERDICT_TEMPERATURE_C
from engine.trade.linear import Factors, NoAnswer, factored
from engine.trade.ranges import OutOfRange, within

SOURCE = "the bank itself"
"""Name under which the bank's own current is given."""


class Equations:
    """Modified nodal equations: one unknown a point, and one a piece that has no resistance, the bank included."""

    def __init__(self, circuit: Circuit, temperatures: Mapping[str, float]) -> None:
        within("open_circuit_v", circuit.bank.open_circuit_v, 0.001, 1000, "V")
        within("internal_ohm", circuit.bank.internal_ohm, 0, 1000, "ohm")
        self.circuit = circuit
        self._temperatures = temperatures
        self.ohms = {p.name: p.resistance_ohm(temperatures.get(p.name)) for p in circuit.pieces}
        self._points = circuit.points()
        _refuse_loose(circuit, self._points)
        self._place = {point: place for place, point in enumerate(self._points)}
        self._stiff = [p for p in circuit.pieces if self.ohms[p.name] == 0]
        self._size = len(self._points) + len(self._stiff) + 1
        self._matrix, self._right = self._pieces()
        self._factors: Factors | None = None

    def metal_c(self, piece: Piece) -> float | None:
        """Return the temperature that a wire was taken at [degC].

        Args:
            piece: A piece of the circuit.

        Returns:
            Its own temperature, or the one given for it, or 29.3 degC; None for what is no wire [degC].

        Source:
            The printed form of boat wiring, copper at 29.3 degC.

        Example:
            >>> from engine.trade.circuit import Bank, single_run
            >>> red = Wire(name="red", size="8 AWG", length_m=5.2)
            >>> Equations(single_run(24, Bank(25.0), [red], [], "motor", 48.0), {}).metal_c(red)
            29.3
        """
        if not isinstance(piece, Wire):
            return None
        if piece.temperature_c is not None:
            return piece.temperature_c
        return self._temperatures.get(piece.name, VERDICT_TEMPERATURE_C)

    def solved(self, guess: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float]]:
        """Return volts by point, and current by piece without resistance.

        Args:
            guess: Volts across each load of steady power, around which it is taken as a straight line [V].

        Returns:
            Volts by point, from the bank's minus [V]; amperes by piece that has no resistance, and of the bank [A].

        Raises:
            OutOfRange: if a load's amount is outside its range or pieces without resistance form a ring.

        Source:
            Kirchhoff's current law.

        Example:
            >>> from engine.trade.circuit import Bank, Part, single_run
            >>> circuit = single_run(12, Bank(12.0), [Part(name="run", ohm=0.5)], [], "lamp", 2.0)
            >>> Equations(circuit, {}).solved({})[0]["lamp +"]
            11.0
        """
        matrix, right = [row[:] for row in self._matrix], self._right[:]
        for load in self.circuit.loads:
            siemens, amperes = _as_linear(load, guess)
            self._bridge(matrix, load.plus, load.minus, siemens)
            self._push(right, load.plus, -amperes)
            self._push(right, load.minus, amperes)
        return self._named(_taken_apart(matrix).solve(right))

    def open_volts(self) -> dict[str, float]:
        """Return volts by point with nothing drawn [V].

        Returns:
            Volts by point, from the bank's minus [V].

        Raises:
            OutOfRange: if pieces without resistance form a ring.

        Source:
            Kirchhoff's current law.

        Example:
            >>> from engine.trade.circuit import Bank, Part, single_run
            >>> circuit = single_run(12, Bank(12.5), [Part(name="run", ohm=0.5)], [], "lamp", 2.0)
            >>> Equations(circuit, {}).open_volts()["lamp +"]
            12.5
        """
        return self._named(self._bare().solve(self._right))[0]

    def short_a(self, point: str, other: str) -> float:
        """Return the current of a short between two points, nothing else drawn [A].

        Args:
            point: One point of the circuit.
            other: The other point.

        Returns:
            Open volts over inner resistance; infinite if nothing resists [A].

        Raises:
            OutOfRange: if pieces without resistance form a ring.

        Source:
            Thevenin.

        Example:
            >>> from engine.trade.circuit import Bank, Part, single_run
            >>> circuit = single_run(12, Bank(12.0, 0.25), [Part(name="run", ohm=0.5)], [], "lamp", 2.0)
            >>> Equations(circuit, {}).short_a("lamp +", BANK_MINUS)
            16.0
        """
        volts = self.open_volts()
        right = [0.0] * self._size
        self._push(right, point, 1.0)
        self._push(right, other, -1.0)
        raised, _ = self._named(self._bare().solve(right))
        open_v, inner_ohm = volts[point] - volts[other], raised[point] - raised[other]
        if inner_ohm <= 1e-12:
            return float("inf")
        return open_v / inner_ohm

    def _pieces(self) -> tuple[list[list[float]], list[float]]:
        matrix = [[0.0] * self._size for _ in range(self._size)]
        right = [0.0] * self._size
        for piece in self.circuit.pieces:
            ohm = self.ohms[piece.name]
            if ohm > 0:
                self._bridge(matrix, piece.start, piece.end, 1 / ohm)
        for place, piece in enumerate(self._stiff, len(self._points)):
            self._tie(matrix, place, piece.start, piece.end)
        source = self._size - 1
        self._tie(matrix, source, BANK_PLUS, BANK_MINUS)
        matrix[source][source] = self.circuit.bank.internal_ohm * -1
        right[source] = self.circuit.bank.open_circuit_v
        return matrix, right

    def _bridge(self, matrix: list[list[float]], one: str, two: str, siemens: float) -> None:
        i, j = self._place.get(one), self._place.get(two)
        if i is not None:
            matrix[i][i] += siemens
        if j is not None:
            matrix[j][j] += siemens
        if i is not None and j is not None:
            matrix[i][j] -= siemens
            matrix[j][i] -= siemens

    def _tie(self, matrix: list[list[float]], place: int, start: str, end: str) -> None:
        for point, sign in ((start, 1.0), (end, -1.0)):
            i = self._place.get(point)
            if i is not None:
                matrix[i][place] += sign
                matrix[place][i] += sign

    def _push(self, right: list[float], point: str, amperes: float) -> None:
        i = self._place.get(point)
        if i is not None:
            right[i] += amperes

    def _bare(self) -> Factors:
        if self._factors is None:
            self._factors = _taken_apart(self._matrix)
        return self._factors

    def _named(self, answer: list[float]) -> tuple[dict[str, float], dict[str, float]]:
        volts = {point: answer[place] for point, place in self._place.items()}
        volts[BANK_MINUS] = 0.0
        through = {p.name: answer[place] for place, p in enumerate(self._stiff, len(self._points))}
        through[SOURCE] = -answer[-1]
        return volts, through


def _taken_apart(matrix: list[list[float]]) -> Factors:
    try:
        return factored(matrix)
    except NoAnswer as no_answer:
        raise OutOfRange("parts without resistance form a ring; give one of them its resistance") from no_answer


def _as_linear(load: Load, guess: Mapping[str, float]) -> tuple[float, float]:
    """Return a load as conductance and steady current around the guessed volts [S, A]."""
    if load.draws is Draws.RESISTANCE:
        return 1 / within("amount", load.amount, 1e-6, 1e9, "ohm"), 0.0
    if load.draws is Draws.CURRENT:
        return 0.0, within("amount", load.amount, 0, 100000, "A")
    watts, volts = within("amount", load.amount, 0, 1e7, "W"), guess[load.name]
    return -watts / volts**2, 2 * watts / volts


def _refuse_loose(circuit: Circuit, points: tuple[str, ...]) -> None:
    """Raise OutOfRange if a point has no way to the bank through wires, joints and devices."""
    reached, edge = {BANK_PLUS, BANK_MINUS}, [BANK_PLUS, BANK_MINUS]
    beside: dict[str, list[str]] = {}
    for piece in circuit.pieces:
        beside.setdefault(piece.start, []).append(piece.end)
        beside.setdefault(piece.end, []).append(piece.start)
    while edge:
        for point in beside.get(edge.pop(), []):
            if point not in reached:
                reached.add(point)
                edge.append(point)
    loose = [point for point in points if point not in reached]
    if loose:
        raise OutOfRange(f"point {loose[0]} has no way to the bank; join it by a wire or a part")
