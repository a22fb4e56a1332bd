"""The named checks of a step: their tables, one for each check, and what fills their inputs."""

from collections.abc import Mapping
from functools import cache

from engine.procedure.faults import Faults, Place
from engine.procedure.forms import CONDITION, texts
from engine.procedure.model_circuit import PLAN, WHEN, Literal, Operand, StepCheck
from engine.procedure.operands import Wanted, operand
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields, Key, Table, once_or_more
from engine.rules.check import Input
from engine.rules.registry import CHECK_NAMES
from engine.rules.registry import check as named
from engine.trade.ranges import OutOfRange


@cache
def table_of(name: str) -> Table:
    """Return the table of a check: its inputs, and the condition under which it is made."""
    inputs = () if name == PLAN else named(name).inputs
    keys = {
        each.name: Key(texts(), f"{each.says} ({each.unit or 'a number'})", required=each.required) for each in inputs
    }
    says = "The verdict on the whole circuit; it takes nothing" if name == PLAN else named(name).title
    return Table(f"check-{name}", says, {**keys, "when": Key(CONDITION, WHEN)})


def build_check(name: str, fields: Fields, scope: Scope) -> StepCheck:
    """Return a check of a step."""
    known = {} if name == PLAN else named(name).known
    when = CONDITION.made(fields.values["when"], fields.at("when"), scope) if "when" in fields.values else None
    return StepCheck(name, _inputs(fields, known, scope), when)


CHECKS = once_or_more("check", (PLAN, *CHECK_NAMES), table_of, build_check)
"""``check.NAME = { input = "entry" }``, or ``check.NAME.OWN = { ... }`` where one check is made several times."""


def _inputs(fields: Fields, known: Mapping[str, Input], scope: Scope) -> dict[str, Operand]:
    found: dict[str, Operand] = {}
    for name, given in fields.values.items():
        if name == "when":
            continue
        item, place = known[name], fields.at(name)
        value = operand(given, Wanted(item.unit, item.choices, item.many), scope, place)
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
