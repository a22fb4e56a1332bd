"""The named checks of a step: their tables, one for each check, and what fills their inputs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from engine.procedure.faults import Faults, Place
from engine.procedure.forms import Condition, Form, Schema, Texts, called, is_table, nearest, short
from engine.procedure.model_circuit import PLAN, WHEN, Literal, Operand, StepCheck
from engine.procedure.operands import Wanted, operand
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields, Inner, Key, Rows, Table, read
from engine.rules.check import Input
from engine.rules.registry import CHECK_NAMES
from engine.rules.registry import check as named
from engine.trade.ranges import OutOfRange

NAMES = (PLAN, *CHECK_NAMES)


@cache
def table_of(name: str) -> Table:
    """Return the table of a check: its inputs, and the condition under which it is made."""
    inputs = () if name == PLAN else named(name).inputs
    keys = {
        each.name: Key(Texts(), f"{each.says} ({each.unit or 'a number'})", required=each.required) for each in inputs
    }
    says = "The verdict on the whole circuit; it takes nothing" if name == PLAN else named(name).title
    return Table(f"check-{name}", says, {**keys, "when": Key(Condition(), WHEN)})


@dataclass(frozen=True, slots=True)
class Checks(Form):
    """``check.NAME = { input = "entry" }``, or a list of such tables where one check is made several times."""

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return the fields of each check in order, or None when it is no table."""
        if not is_table(value):
            faults.add(place, f"is {called(value)}, should be a table such as {{ dead = {{ ... }} }}")
            return None
        found: list[Fields] = []
        for name, given in value.items():
            at = place.row(short(name))
            if name not in NAMES:
                hint = nearest(name, NAMES, f"there are {', '.join(NAMES)}")
                faults.add(at.name, f'no check is called "{short(name)}"; {hint}')
            elif isinstance(given, list):
                places = (at.item(number, f"{at.words[-1]} {number + 1}") for number in range(len(given)))
                found += (read(one, table_of(name), where, faults) for one, where in zip(given, places, strict=True))
            else:
                found.append(read(given, table_of(name), at, faults))
        return found

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        each = {name: {"description": table_of(name).says, "oneOf": _once_or_more(name)} for name in NAMES}
        return {"type": "object", "properties": each, "additionalProperties": False}


def _once_or_more(name: str) -> list[Schema]:
    return [Inner(table_of(name)).schema(), {**Rows(table_of(name)).schema(), "minItems": 1}]


def built_checks(given: list[Fields], scope: Scope) -> Iterator[tuple[Place, StepCheck]]:
    """Give the checks of a step, each with its place."""
    for fields in given:
        name = fields.table.name.removeprefix("check-")
        known = {} if name == PLAN else named(name).known
        when = Condition().made(fields.values["when"], fields.at("when"), scope) if "when" in fields.values else None
        yield fields.place, StepCheck(name, _inputs(fields, known, scope), when)


def _inputs(fields: Fields, known: Mapping[str, Input], scope: Scope) -> dict[str, Operand]:
    found: dict[str, Operand] = {}
    for name, texts in fields.values.items():
        if name == "when":
            continue
        item, place = known[name], fields.at(name)
        value = operand(texts, Wanted(item.unit, item.choices, item.many), scope, place)
        if value is not None:
            found[name] = value
        if isinstance(value, Literal):
            _check_range(value, item, place, scope.faults)
    return found


def _check_range(value: Literal, item: Input, place: Place, faults: Faults) -> None:
    try:
        item.refuse_outside(value.value)
    except OutOfRange as outside:
        faults.add(place, str(outside))
