"""What a shared training rig is known to have, and which faults were planted on it: a TOML file of the instructor's."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from engine.procedure.model import Procedure
from engine.quantity import Amount, read
from engine.quantity.wanted import LABEL_UNITS
from engine.review.paper import BadPaper, read_paper
from engine.session.beside import RIG_KEYS


@dataclass(frozen=True, slots=True)
class KnownValue:
    """A known value and how far a good reading may lie from it, both in the entry's base unit."""

    value: float
    within: float

    def is_far(self, number: float) -> bool:
        """Return whether a reading lies further out than it may."""
        return abs(number - self.value) > self.within


@dataclass(frozen=True, slots=True)
class Fault:
    """A planted fault, in words, and the steps in which it can be found."""

    says: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rig:
    """A rig: known values by entry, planted faults."""

    known: Mapping[str, KnownValue]
    planted: tuple[Fault, ...]


def load_rig(path: Path, procedure: Procedure) -> Rig:
    """Return a rig for the logs of a procedure.

    The file has ``schema = 1``, tables ``[[value]]`` with ``entry``, ``is`` and ``within`` (texts with units), and
    tables ``[[planted]]`` with ``says`` and ``steps``.

    Raises:
        BadPaper: if the file cannot be used; says where and what would be right.
    """
    told = read_paper(path)
    if told.get("schema") != 1:
        raise BadPaper(f"{path.name}: schema: must be 1")
    for key in told:
        if key not in RIG_KEYS:
            raise BadPaper(f"{path.name}: {key}: unknown key, the keys are {', '.join(RIG_KEYS)}")
    known = dict(_known(path.name, n, item, procedure) for n, item in enumerate(_tables(path.name, told, "value"), 1))
    faults = (_fault(path.name, n, item, procedure) for n, item in enumerate(_tables(path.name, told, "planted"), 1))
    return Rig(known, tuple(faults))


def _tables(name: str, told: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    found = told.get(key, [])
    if not isinstance(found, list) or not all(isinstance(item, dict) for item in found):
        raise BadPaper(f"{name}: {key}: must be a list of tables")
    return found


def _only(where: str, item: Mapping[str, Any], keys: tuple[str, ...]) -> None:
    for key in item:
        if key not in keys:
            raise BadPaper(f"{where}.{key}: unknown key, the keys are {', '.join(keys)}")


def _known(name: str, number: int, item: Mapping[str, Any], procedure: Procedure) -> tuple[str, KnownValue]:
    where = f"{name}: value[{number}]"
    _only(where, item, ("entry", "is", "within"))
    entry = procedure.entry_by_id.get(str(item.get("entry")))
    if entry is None:
        raise BadPaper(f'{where}.entry: "{item.get("entry")}" is not asked for by {procedure.id}')
    if entry.unit in LABEL_UNITS:
        raise BadPaper(
            f"{where}.entry: {entry.id} is no number ({entry.unit}); only a measured number has a known value"
        )
    value, within = (_amount(f"{where}.{key}", item.get(key), entry.unit) for key in ("is", "within"))
    if within < 0:
        raise BadPaper(f"{where}.within: must be zero or above")
    return entry.id, KnownValue(value, within)


def _amount(where: str, text: object, unit: str) -> float:
    found = read(text, unit) if isinstance(text, str) else None
    if not isinstance(found, Amount):
        raise BadPaper(f'{where}: must be a text such as "1 {unit}"')
    return found.number


def _fault(name: str, number: int, item: Mapping[str, Any], procedure: Procedure) -> Fault:
    where, steps = f"{name}: planted[{number}]", item.get("steps")
    _only(where, item, ("says", "steps"))
    if not isinstance(item.get("says"), str) or not isinstance(steps, list) or not steps:
        raise BadPaper(f"{where}: must have a text says and a list steps")
    for step in steps:
        if not isinstance(step, str) or step not in procedure.step_by_id:
            raise BadPaper(f'{where}.steps: "{step}" is no step of {procedure.id}')
    return Fault(str(item["says"]), tuple(steps))
