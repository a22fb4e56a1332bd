"""A procedure's circuit filled with facts: each part's figures, and what all parts share."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from engine.finding import Value
from engine.procedure.model import Procedure
from engine.procedure.model_circuit import CircuitPart, Literal, Operand, PartKind, Reference

DEVICES = (PartKind.RECEPTACLE, PartKind.PLUG, PartKind.SWITCH)
"""Parts in series whose rating is printed on them."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part with its figures in base units; a figure that was not given is None."""

    id: str
    kind: PartKind
    name: str
    figures: Mapping[str, Value]

    def number(self, name: str) -> float | None:
        """Return a figure as a number, None if it is not one."""
        return as_number(self.figures.get(name))

    def word(self, name: str) -> str:
        """Return a figure as a label, empty if it was not given."""
        value = self.figures.get(name)
        return value if isinstance(value, str) else ""

    def changed(self, **figures: Value) -> "Part":
        """Return the part with some figures changed."""
        return replace(self, figures={**self.figures, **figures})


@dataclass(frozen=True, slots=True)
class Circuit:
    """The parts in order from the bank to the load."""

    parts: tuple[Part, ...]

    def of_kind(self, *kinds: PartKind) -> tuple[Part, ...]:
        """Return the parts of some kinds, in order."""
        return tuple(part for part in self.parts if part.kind in kinds)

    def with_parts(self, *changed: Part) -> "Circuit":
        """Return the circuit with some parts put in place of those of the same id."""
        by_id = {part.id: part for part in changed}
        return Circuit(tuple(by_id.get(part.id, part) for part in self.parts))

    def part(self, id: str) -> Part:
        """Return a part by id."""
        return next(part for part in self.parts if part.id == id)

    def shared(self, name: str) -> Value:
        """Return a figure that one part carries for all (``current``, ``nominal``): the one nearest the load."""
        return next((part.figures[name] for part in reversed(self.parts) if part.figures.get(name) is not None), None)

    def number(self, name: str) -> float | None:
        """Return a figure that one part carries for all as a number, None if it is not one."""
        return as_number(self.shared(name))

    def declares(self, name: str) -> bool:
        """Return whether any part has a figure of that name, known or not."""
        return any(name in part.figures for part in self.parts)


def as_number(value: Value) -> float | None:
    """Return a figure as a number, None if it is not one."""
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def as_found(procedure: Procedure, values: Mapping[str, Value]) -> Circuit:
    """Return the circuit with the figures of the old parts."""
    return Circuit(tuple(_part(p, p.found, values) for p in _present(procedure, values)))


def as_planned(procedure: Procedure, values: Mapping[str, Value]) -> Circuit:
    """Return the circuit with the new parts; what is not replaced is as found."""
    return Circuit(tuple(_planned(p, values) for p in _present(procedure, values)))


def as_built(procedure: Procedure, values: Mapping[str, Value]) -> Circuit:
    """Return the planned circuit with what was read of it during the work; what was not read is as planned."""
    return Circuit(tuple(_changed(_planned(p, values), p.built, values) for p in _present(procedure, values)))


def _present(procedure: Procedure, values: Mapping[str, Value]) -> tuple[CircuitPart, ...]:
    return tuple(p for p in procedure.circuit if p.when is None or p.when.holds(values) is True)


def _part(part: CircuitPart, operands: Mapping[str, Operand], values: Mapping[str, Value]) -> Part:
    return Part(part.id, part.kind, part.name, {name: _value(o, values) for name, o in operands.items()})


def _planned(part: CircuitPart, values: Mapping[str, Value]) -> Part:
    return _changed(_part(part, part.found, values), part.planned, values)


def _changed(part: Part, operands: Mapping[str, Operand], values: Mapping[str, Value]) -> Part:
    changed = {name: _value(o, values) for name, o in operands.items()}
    return replace(part, figures={**part.figures, **{n: v for n, v in changed.items() if v is not None}})


def _value(operand: Operand, values: Mapping[str, Value]) -> Value:
    if isinstance(operand, Literal):
        return operand.value
    if not isinstance(operand, Reference):
        return None
    if operand.many:
        return tuple(values[i] for i in operand.ids if values.get(i) is not None) or None
    return values.get(operand.ids[0])
