"""The units of a limit: which may be added and compared, and what a product or a quotient is."""

from dataclasses import dataclass
from typing import cast

from engine.quantity.amount import Kind

Powers = tuple[int, int, int, int, int, int]
"""Powers of V, A, m, s, N and K."""

_NAMES = ("V", "A", "m", "s", "N", "K")


@dataclass(frozen=True, slots=True)
class Unit:
    """What a number of a limit is in.

    ``scale`` turns it into the product of its powers (1e-6 for mm2, 3600 for Ah, 0.01 for %). ``kind`` is None for what
    came out of a product or a quotient, and then meets any kind of the same powers.
    """

    powers: Powers
    scale: float = 1.0
    kind: Kind | None = None


UNITS: dict[Kind, Unit] = {
    kind: Unit(powers, scale, kind)
    for kind, powers, scale in (
        (Kind.VOLTAGE, (1, 0, 0, 0, 0, 0), 1.0),
        (Kind.CURRENT, (0, 1, 0, 0, 0, 0), 1.0),
        (Kind.RESISTANCE, (1, -1, 0, 0, 0, 0), 1.0),
        (Kind.LENGTH, (0, 0, 1, 0, 0, 0), 1.0),
        (Kind.AREA, (0, 0, 2, 0, 0, 0), 1e-6),  # 1 mm2 = 1e-6 m2, by definition
        (Kind.TORQUE, (0, 0, 1, 0, 1, 0), 1.0),
        (Kind.FORCE, (0, 0, 0, 0, 1, 0), 1.0),
        (Kind.TEMPERATURE, (0, 0, 0, 0, 0, 1), 1.0),
        (Kind.DIFFERENCE, (0, 0, 0, 0, 0, 1), 1.0),
        (Kind.TIME, (0, 0, 0, 1, 0, 0), 1.0),
        (Kind.POWER, (1, 1, 0, 0, 0, 0), 1.0),
        (Kind.CHARGE, (0, 1, 0, 1, 0, 0), 3600.0),  # 1 Ah = 3600 A s, by definition
        (Kind.RATIO, (0, 0, 0, 0, 0, 0), 0.01),  # 1 % = 0.01, by definition
        (Kind.COUNT, (0, 0, 0, 0, 0, 0), 1.0),
    )
}

COUNT = UNITS[Kind.COUNT]

_WORDS = {
    Kind.VOLTAGE: "a voltage (V)",
    Kind.CURRENT: "a current (A)",
    Kind.RESISTANCE: "a resistance (ohm)",
    Kind.LENGTH: "a length (m)",
    Kind.AREA: "an area (mm2)",
    Kind.TORQUE: "a torque (N m)",
    Kind.FORCE: "a force (N)",
    Kind.TEMPERATURE: "a temperature (degC)",
    Kind.DIFFERENCE: "a temperature difference (K)",
    Kind.TIME: "a time (s)",
    Kind.POWER: "a power (W)",
    Kind.CHARGE: "a charge (Ah)",
    Kind.RATIO: "a share (%)",
    Kind.COUNT: "a plain number",
}


def words(unit: Unit) -> str:
    """Return the unit as people say it: ``a length (m)``.

    Example:
        >>> words(UNITS[Kind.LENGTH])
        'a length (m)'
    """
    kind = unit.kind or kind_of(unit)
    if kind is not None:
        return _WORDS[kind]
    return "in " + " ".join(
        f"{name}{power if power != 1 else ''}" for name, power in zip(_NAMES, unit.powers, strict=True) if power
    )


def kind_of(unit: Unit) -> Kind | None:
    """Return the kind that has the unit's powers, if there is one (a quotient V/A is a resistance)."""
    if unit.kind is not None:
        return unit.kind
    odd = (Kind.TEMPERATURE, Kind.RATIO)
    return next((kind for kind, known in UNITS.items() if known.powers == unit.powers and kind not in odd), None)


def alike(left: Unit, right: Unit) -> bool:
    """Return whether two numbers may be compared."""
    if left.powers != right.powers:
        return False
    if Kind.TEMPERATURE in (left.kind, right.kind):
        return left.kind == right.kind
    return left.kind == right.kind or left.kind is None or right.kind is None


def total(sign: str, left: Unit, right: Unit) -> Unit | None:
    """Return the unit of a sum or a difference, or None if there is none.

    Two temperatures have a difference in K and no sum; a temperature and a difference make a temperature.
    """
    hot, step = Kind.TEMPERATURE, Kind.DIFFERENCE
    if left.kind is hot and right.kind is hot:
        return UNITS[step] if sign == "-" else None
    if (left.kind, right.kind) == (hot, step):
        return left
    if (left.kind, right.kind) == (step, hot):
        return right if sign == "+" else None
    if not alike(left, right):
        return None
    if left.scale == right.scale:
        return left if left.kind is not None else right
    return Unit(left.powers)


def product(sign: str, left: Unit, right: Unit) -> Unit | None:
    """Return the unit of a product or a quotient, or None for a temperature, which has neither."""
    if Kind.TEMPERATURE in (left.kind, right.kind):
        return None
    if right.kind is Kind.COUNT:
        return left
    if left.kind is Kind.COUNT and sign == "*":
        return right
    turn = 1 if sign == "*" else -1
    powers = cast(Powers, tuple(mine + turn * theirs for mine, theirs in zip(left.powers, right.powers, strict=True)))
    scale = left.scale * right.scale if sign == "*" else left.scale / right.scale
    return Unit(powers, scale)
