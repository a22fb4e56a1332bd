"""The whole circuit as one object: bank, wires, joints, devices and loads between named points."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from engine.trade.ampacity import TABLE_AMBIENT_C, bundle_factor, engine_space_factor, in_table, table_allowable_a
from engine.trade.conductor import VERDICT_TEMPERATURE_C, area_mm2, resistance_ohm_per_m
from engine.trade.ranges import OutOfRange, within

BANK_PLUS, BANK_MINUS = "bank +", "bank -"
"""The two points of the bank. All volts are counted from ``BANK_MINUS``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One length of one size between two points. ``temperature_c`` fixes the metal's temperature, None leaves it."""

    name: str
    start: str = ""
    end: str = ""
    size: str
    length_m: float
    material: str = "copper"
    insulation_c: float = 105.0
    ambient_c: float = TABLE_AMBIENT_C
    loaded_conductors: float = 2
    engine_space: bool = False
    temperature_c: float | None = None

    def resistance_ohm(self, temperature_c: float | None = None) -> float:
        """Return its resistance at its own temperature, or at the one given, or at 29.3 degC [ohm].

        Args:
            temperature_c: Temperature of the metal [degC], used if the wire has none of its own.

        Returns:
            The resistance of its whole length [ohm].

        Raises:
            OutOfRange: if its size, material or a number is outside its range.

        Source:
            As ``conductor.resistance_ohm_per_m``.

        Example:
            >>> round(1000 * Wire(name="run", size="8 AWG", length_m=5.2).resistance_ohm(), 2)
            11.11
        """
        own = self.temperature_c if self.temperature_c is not None else temperature_c
        metal_c = VERDICT_TEMPERATURE_C if own is None else own
        length = within("length_m", self.length_m, 0, 10000, "m")
        return length * resistance_ohm_per_m(area_mm2(self.size), metal_c, self.material)

    def bundled_allowable_a(self) -> float | None:
        """Return what it may carry in 30 degC air, bundle counted, or None if no row is printed for it [A].

        Returns:
            Table 5 with the bundle's factor; nothing for a metal that is not copper [A].

        Raises:
            OutOfRange: if its size, insulation or bundle is outside its range.

        Source:
            33 CFR 183.425, table 5 with note 2; 183.425(a) knows copper only.

        Example:
            >>> Wire(name="run", size="8 AWG", length_m=5.2, loaded_conductors=3).bundled_allowable_a()
            56.0
        """
        if self.material != "copper" or not in_table(self.size):
            return None
        return table_allowable_a(self.size, self.insulation_c) * bundle_factor(self.loaded_conductors)

    def rating_a(self) -> float | None:
        """Return what it may carry where it lies, or None if no row is printed for it [A].

        Returns:
            Table 5 with the factors of bundle and engine space [A].

        Raises:
            OutOfRange: if its size, insulation or bundle is outside its range.

        Source:
            33 CFR 183.425, table 5 with notes 1 and 2.

        Example:
            >>> Wire(name="run", size="8 AWG", length_m=5.2, engine_space=True).rating_a()
            68.0
        """
        plain = self.bundled_allowable_a()
        if plain is None:
            return None
        return plain * (engine_space_factor(self.insulation_c) if self.engine_space else 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A joint or a device between two points: its resistance, and its rating if it has one."""

    name: str
    start: str = ""
    end: str = ""
    ohm: float = 0.0
    rated_a: float | None = None

    def resistance_ohm(self, temperature_c: float | None = None) -> float:
        """Return its resistance, whatever the temperature [ohm].

        Args:
            temperature_c: Not used [degC].

        Returns:
            Its resistance [ohm].

        Raises:
            OutOfRange: if it is not from 0 to 1000 ohm.

        Source:
            The reading or label it was entered from.

        Example:
            >>> Part(name="plug", ohm=0.001).resistance_ohm()
            0.001
        """
        return within("ohm", self.ohm, 0, 1000, "ohm")

    def rating_a(self) -> float | None:
        """Return the rating on its label, or None [A].

        Returns:
            The rating [A].

        Source:
            The label.

        Example:
            >>> Part(name="plug", rated_a=60).rating_a()
            60
        """
        return self.rated_a


Piece = Wire | Part


class Draws(StrEnum):
    """How a load draws: a steady current, a steady power, or as a resistance."""

    CURRENT = "current"
    POWER = "power"
    RESISTANCE = "resistance"


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A load between two points. ``amount`` is in A, W or ohm, by ``draws``."""

    name: str
    plus: str
    minus: str
    draws: Draws = Draws.CURRENT
    amount: float


@dataclass(frozen=True, slots=True)
class Bank:
    """The source: volts at no load, and the resistance inside it."""

    open_circuit_v: float
    internal_ohm: float = 0.0


@dataclass(frozen=True, slots=True)
class Circuit:
    """Everything from the bank's plus round to its minus. ``nominal_v`` is what percentages are taken of."""

    nominal_v: float
    bank: Bank
    pieces: tuple[Piece, ...]
    loads: tuple[Load, ...]

    def points(self) -> tuple[str, ...]:
        """Return every point but the bank's minus, in the order in which they are met.

        Returns:
            The names, the bank's plus first.

        Source:
            The circuit itself.

        Example:
            >>> single_run(24, Bank(25.0), [Part(name="fuse")], [], "motor", 48.0).points()
            ('bank +', 'motor +')
        """
        ends = [point for piece in self.pieces for point in (piece.start, piece.end)]
        loads = [point for load in self.loads for point in (load.plus, load.minus)]
        return tuple(dict.fromkeys(p for p in (BANK_PLUS, *ends, *loads) if p != BANK_MINUS))


def single_run(
    nominal_v: float,
    bank: Bank,
    out: Iterable[Piece],
    back: Iterable[Piece],
    load_name: str,
    load_amount: float,
    draws: Draws = Draws.CURRENT,
) -> Circuit:
    """Return the circuit of one load at the end of one run, its points named for it.

    Args:
        nominal_v: What percentages are taken of [V].
        bank: The source.
        out: Pieces from the bank's plus to the load, in order.
        back: Pieces from the load to the bank's minus, in order.
        load_name: What the load is called.
        load_amount: What it draws [A, W or ohm, by ``draws``].
        draws: How it draws.

    Returns:
        The circuit.

    Raises:
        OutOfRange: if two pieces have the same name.

    Source:
        The run as it lies.

    Example:
        >>> run = [Wire(name="red", size="8 AWG", length_m=5.2)], [Wire(name="black", size="8 AWG", length_m=5.2)]
        >>> [f"{p.start} to {p.end}" for p in single_run(24, Bank(25.0), *run, "motor", 48.0).pieces]
        ['bank + to motor +', 'motor - to bank -']
    """
    plus, minus = f"{load_name} +", f"{load_name} -"
    ways = _strung(tuple(out), BANK_PLUS, plus) + _strung(tuple(back), minus, BANK_MINUS)
    names = [piece.name for piece in ways]
    doubled = {name for name in names if names.count(name) > 1}
    if doubled:
        raise OutOfRange(f"two pieces are named {sorted(doubled)[0]}; each needs a name of its own")
    first = plus if any(p.end == plus for p in ways) else BANK_PLUS
    last = minus if any(p.start == minus for p in ways) else BANK_MINUS
    load = Load(name=load_name, plus=first, minus=last, draws=draws, amount=load_amount)
    return Circuit(nominal_v, bank, ways, (load,))


def _strung(pieces: tuple[Piece, ...], first: str, last: str) -> tuple[Piece, ...]:
    """Return the pieces with their ends named, one after the other."""
    strung: list[Piece] = []
    start = first
    for place, piece in enumerate(pieces, 1):
        end = last if place == len(pieces) else f"after {piece.name}"
        strung.append(replace(piece, start=start, end=end))
        start = end
    return tuple(strung)
