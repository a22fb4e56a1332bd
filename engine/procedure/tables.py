"""Tables of a procedure file, said once where their dataclass stands: how one is read, and what is made of it."""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, field, fields, replace
from typing import TypeVar, dataclass_transform

from engine.nearest import nearest
from engine.procedure.faults import Faults, Place
from engine.procedure.forms import Form, Held, Schema, called, called_item, is_table, mapped, short
from engine.procedure.scope import Scope

_Class = TypeVar("_Class")

_NOTHING = object()
"""Stands where a key has no value of its own for its absence."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table: the form of its value, what it is for, and the field of the model that it fills, if one.

    ``absent`` stands in the field when the key is not there. A required key has none: its absence is a fault.
    """

    form: Form
    says: str
    field: str = ""
    required: bool = False
    absent: Held = _NOTHING


def key(
    form: Form,
    says: str,
    *,
    name: str = "",
    absent: Held = _NOTHING,
    default: Held = MISSING,
    default_factory: Held = MISSING,
) -> Held:
    """Declare a field that a key of the file fills.

    Args:
        form: The form of its value.
        says: What it is for.
        name: The name of the key, if it is not that of the field.
        absent: What stands in the field if the file does not say, where the dataclass itself has no default.
        default: The default of the field, and of the key.
        default_factory: The same, made anew each time.
    """
    return field(default=default, default_factory=default_factory, metadata={"key": (name, form, says, absent)})


@dataclass_transform(field_specifiers=(key, field), frozen_default=True)
def record(cls: type[_Class]) -> type[_Class]:
    """Make a frozen dataclass of a class whose fields may be declared with ``key``."""
    return dataclass(frozen=True, slots=True)(cls)


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """A table of a file: what people call it, what it is, its keys in the order to write them, and what it becomes.

    ``binds`` notes what is wrong between its keys; ``rules`` say the same in JSON Schema. ``odd`` is the sentence for
    a key that it has not, if it knows a better one than the nearest of its keys.
    """

    name: str
    says: str
    keys: Mapping[str, Key]
    into: Callable[..., Held] = dict
    binds: Callable[["Fields", Faults], None] = lambda table, faults: None
    rules: tuple[Schema, ...] = ()
    odd: Callable[[str, object], str] = lambda name, value: ""


def table(
    cls: type,
    name: str,
    more: Mapping[str, Key] | None = None,
    binds: Callable[["Fields", Faults], None] = lambda table, faults: None,
    rules: tuple[Schema, ...] = (),
    odd: Callable[[str, object], str] = lambda name, value: "",
) -> Table:
    """Return the table that a dataclass declares, with ``more`` keys that no single field holds."""
    found: dict[str, Key] = {}
    for each in fields(cls):
        if "key" in each.metadata:
            of_key, form, says, absent = each.metadata["key"]
            required = absent is _NOTHING and each.default is MISSING and each.default_factory is MISSING
            found[of_key or each.name] = Key(form, says, each.name, required, absent)
    says = (cls.__doc__ or "").split("\n")[0].rstrip(".")
    return Table(name, says, {**found, **(more or {})}, cls, binds, rules, odd)


@dataclass(frozen=True, slots=True)
class Fields:
    """The keys of one table of a file that have the right form, and the names of those that are there and wrong."""

    table: Table
    place: Place
    values: Mapping[str, Held]
    wrong: tuple[str, ...] = ()

    def has(self, name: str) -> bool:
        """Return whether a key is there, right or wrong."""
        return name in self.values or name in self.wrong

    def at(self, name: str) -> Place:
        """Return the place of a key."""
        return self.place.key(name)

    def text(self, name: str) -> str:
        """Return a string."""
        found: str = self.values.get(name, "")
        return found

    def said(self, name: str, *, capital: bool = True) -> str:
        """Return a string, or if it is left out the id in words: ``Make safe`` for ``make-safe``."""
        words = self.text("id").replace("-", " ")
        return self.text(name) or (words[:1].upper() + words[1:] if capital else words)

    def rows(self, name: str) -> "list[Fields]":
        """Return the tables of a list."""
        found: list[Fields] = self.values.get(name, [])
        return found

    def by_id(self, name: str) -> "Mapping[str, Fields]":
        """Return the tables that stand under their own names."""
        found: Mapping[str, Fields] = self.values.get(name, {})
        return found

    def make(self, scope: Scope, **others: object) -> Held:
        """Return what the table becomes, with the values of fields that it does not hold itself."""
        made: dict[str, object] = dict(others)
        for name, each in self.table.keys.items():
            if each.field and name in self.values:
                made[each.field] = each.form.made(self.values[name], self.place.key(name), scope)
            elif each.field not in made and each.absent is not _NOTHING:
                made[each.field] = each.absent
            elif each.required and each.field:
                made[each.field] = each.form.empty
        return self.table.into(**made)


def read(raw: object, table: Table, place: Place, faults: Faults) -> Fields:
    """Return the fields of one table that have the right form, and note every fault of the others."""
    if not is_table(raw):
        faults.add(place, f"is {called(raw)}, should be a table")
        return Fields(table, place, {})
    values: dict[str, object] = {}
    for name, value in raw.items():
        if name not in table.keys:
            mine = place.words[-1] if place.words else f"a {table.name}"
            hint = nearest(name, table.keys, f"{mine} has {', '.join(table.keys)}")
            faults.add(place.key(short(name)), table.odd(name, value) or f"is not a key here; {hint}")
        elif (found := table.keys[name].form.read(value, place.key(name), faults)) is not None:
            values[name] = found
    for name, each in table.keys.items():
        if each.required and name not in raw:
            faults.add(place, f'"{name}" is missing: {each.says}')
    found = Fields(table, place, values, tuple(name for name in raw if name not in values))
    table.binds(found, faults)
    return found


def inner(of: Table) -> Form:
    """Return the form of a table of known keys."""
    return Form(
        lambda value: "" if is_table(value) else f"is {called(value)}, should be a table",
        lambda: _reference(of),
        lambda value, place, scope: value.make(scope),
        reads=lambda value, place, faults: read(value, of, place, faults),
        tables=lambda: [of],
    )


def rows(of: Table) -> Form:
    """Return the form of a list of tables of known keys."""

    def reads(value: list[object], place: Place, faults: Faults) -> object:
        places = (place.item(number, called_item(place.words[-1], number, one)) for number, one in enumerate(value))
        return [read(one, of, where, faults) for one, where in zip(value, places, strict=True)]

    return Form(
        lambda value: "" if isinstance(value, list) else f"is {called(value)}, should be a list of tables",
        lambda: {"type": "array", "items": _reference(of)},
        lambda value, place, scope: tuple(each.make(scope) for each in value),
        (),
        reads,
        lambda: [of],
    )


def by_name(of: Table, names: Form, *, has_id: bool = True) -> Form:
    """Return the form of tables each under its own name, ``read.depth = { ... }``, a tuple in the model.

    Args:
        of: The table of each.
        names: The form of the names.
        has_id: Whether what each becomes has its name as its id.
    """

    def made(value: dict[str, Fields], place: Place, scope: Scope) -> Held:
        return tuple(each.make(scope, **({"id": name} if has_id else {})) for name, each in value.items())

    def schema() -> Schema:
        return {"type": "object", "additionalProperties": _reference(of), "propertyNames": names.schema()}

    return replace(mapped(inner(of), names), schema=schema, made=made, empty=())


def once_or_more(
    kind: str, names: tuple[str, ...], table_of: Callable[[str], Table], into: Callable[[str, Fields, Scope], Held]
) -> Form:
    """Return the form of tables each under a known name, or several of one under names of their own in it.

    Args:
        kind: What the names are.
        names: The names.
        table_of: Gives the table of each name.
        into: Makes of a name and its table what stands in the model.
    """

    def reads(value: dict[str, object], place: Place, faults: Faults) -> object:
        found: list[tuple[str, Fields]] = []
        for name, given in value.items():
            at = place.row(short(name))
            if name not in names:
                hint = nearest(name, names, f"there are {', '.join(names)}")
                faults.add(at.name, f'no {kind} is called "{short(name)}"; {hint}')
            elif is_table(given) and given and all(map(is_table, given.values())):
                found += ((name, read(one, table_of(name), at.row(short(own)), faults)) for own, one in given.items())
            else:
                found.append((name, read(given, table_of(name), at, faults)))
        return found

    def schema_of(name: str) -> Schema:
        several = {"additionalProperties": _reference(table_of(name))}
        are_several = {"type": "object", "additionalProperties": {"type": "object"}, "minProperties": 1}
        whole = _reference(table_of(name))
        return {"description": table_of(name).says, "if": are_several, "then": several, "else": whole}

    def schema() -> Schema:
        properties = {name: schema_of(name) for name in names}
        return {"type": "object", "properties": properties, "additionalProperties": False}

    return Form(
        lambda value: "" if is_table(value) else f"is {called(value)}, should be a table: {{ {names[0]} = {{ ... }} }}",
        schema,
        lambda value, place, scope: tuple(into(name, fields, scope) for name, fields in value),
        (),
        reads,
        lambda: map(table_of, names),
    )


def _reference(of: Table) -> Schema:
    return {"$ref": f"#/$defs/{of.name}"}
