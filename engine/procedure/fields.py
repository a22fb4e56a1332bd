"""Reads one table of a procedure file by its description: notes what is wrong, hands out what is right, typed."""

from dataclasses import dataclass
from difflib import get_close_matches
from typing import cast

from engine.procedure.faults import Faults, Place
from engine.procedure.forms import Inner, Inners, Table, called, is_table, short


@dataclass(frozen=True, slots=True)
class Fields:
    """The keys of one table that have the right form. A key that is absent or wrong reads as empty."""

    place: Place
    values: dict[str, object]

    def has(self, name: str) -> bool:
        """Return whether the key is there and has the right form."""
        return name in self.values

    def text(self, name: str, default: str = "") -> str:
        """Return a string."""
        return cast(str, self.values.get(name, default))

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of strings."""
        return tuple(cast(list[str], self.values.get(name, [])))

    def whole(self, name: str, default: int) -> int:
        """Return a whole number."""
        return cast(int, self.values.get(name, default))

    def yes(self, name: str) -> bool:
        """Return true or false, false if the key is not there."""
        return cast(bool, self.values.get(name, False))

    def mapping(self, name: str) -> dict[str, str | list[str]]:
        """Return a table of free keys."""
        return cast(dict[str, str | list[str]], self.values.get(name, {}))

    def tables(self, name: str) -> list["Fields"]:
        """Return a list of tables, already read."""
        return cast(list[Fields], self.values.get(name, []))

    def table(self, name: str) -> "Fields | None":
        """Return a table, already read, or None."""
        return cast(Fields | None, self.values.get(name))


def read(raw: object, table: Table, place: Place, faults: Faults) -> Fields:
    """Return the fields of one table that have the right form, and note every fault of the others."""
    if not is_table(raw):
        faults.add(place, f"is {called(raw)}, should be a table")
        return Fields(place, {})
    values: dict[str, object] = {}
    for name, value in raw.items():
        _read_key(name, value, table, place, faults, values)
    absent = [name for name, key in table.keys.items() if key.required and name not in raw]
    for name in absent:
        faults.add(place, f'"{name}" is missing: {table.keys[name].says}')
    return Fields(place, values)


def _read_key(name: str, value: object, table: Table, place: Place, faults: Faults, values: dict[str, object]) -> None:
    key = table.keys.get(name)
    if key is None:
        faults.add(place.key(short(name)), unknown_key(name, table))
    elif isinstance(key.form, Inner):
        values[name] = read(value, key.form.table, place.key(name), faults)
    elif isinstance(key.form, Inners):
        values[name] = _read_list(name, value, key.form.table, place, faults)
    elif fault := key.form.fault(value):
        faults.add(place.key(name), fault)
    else:
        values[name] = value


def _read_list(name: str, value: object, table: Table, place: Place, faults: Faults) -> list[Fields]:
    if not isinstance(value, list):
        faults.add(place.key(name), f"is {called(value)}, should be a list of tables, [[{name}]]")
        return []
    return [
        read(item, table, place.item(name, at, called_item(name, at, item)), faults) for at, item in enumerate(value)
    ]


def called_item(name: str, number: int, raw: object) -> str:
    """Return what people are told that a table of a list is: ``step "strip"``, or its number from 1."""
    identity = raw.get("id", raw.get("name")) if is_table(raw) else None
    return f'{name} "{short(identity)}"' if isinstance(identity, str) else f"{name} {number + 1}"


def unknown_key(name: str, table: Table) -> str:
    """Return the sentence for a key that the table does not have."""
    near = get_close_matches(name, table.keys, 1)
    hint = f'did you mean "{near[0]}"?' if near else f"a {table.name} has {', '.join(table.keys)}"
    return f"is not a key here; {hint}"
