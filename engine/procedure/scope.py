"""The names that limits, conditions and checks of a procedure may use, and the reading of a condition over them."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.procedure.faults import Faults
from engine.procedure.fields import Fields
from engine.procedure.limit import Expression, LimitFault, parse


@dataclass(frozen=True, slots=True)
class Scope:
    """Every fact and reading by id: its unit as the entry says, and its choices if it has some."""

    units: Mapping[str, str]
    choices: Mapping[str, tuple[str, ...]]


def condition(given: Fields, key: str, scope: Scope, faults: Faults) -> Expression | None:
    """Return the limit or condition that stands under a key, or None if there is none or it has a fault."""
    text = given.text(key)
    if not text:
        return None
    try:
        return parse(text, scope.units, scope.choices)
    except LimitFault as fault:
        column = f"column {fault.column + 1}: " if fault.column else ""
        faults.add(given.place.key(key), f"{column}{fault.sentence}")
        return None
