"""Builds the named checks of a step, and holds their inputs against what the check asks for."""

from difflib import get_close_matches

from engine.procedure.faults import Faults, Place
from engine.procedure.fields import Fields
from engine.procedure.forms import short
from engine.procedure.model_circuit import PLAN, Literal, Operand, StepCheck
from engine.procedure.operands import Wanted, operand
from engine.procedure.scope import Scope, condition
from engine.rules.check import Check, Input
from engine.rules.registry import check as named
from engine.trade.ranges import OutOfRange


def build_check(given: Fields, scope: Scope, faults: Faults) -> StepCheck:
    """Return one check of a step.

    Args:
        given: Its table.
        scope: The entries that may fill its inputs.
        faults: Takes what is wrong.
    """
    name = given.text("name")
    when = condition(given, "when", scope, faults)
    if name == PLAN:
        if given.mapping("with"):
            faults.add(given.place.key("with"), "the plan takes its inputs from the circuit; take this out")
        return StepCheck(name, {}, when)
    return StepCheck(name, _inputs(given, named(name), scope, faults) if name else {}, when)


def _inputs(given: Fields, check: Check, scope: Scope, faults: Faults) -> dict[str, Operand]:
    known = {item.name: item for item in check.inputs}
    filled = given.mapping("with")
    place = given.place.key("with")
    found: dict[str, Operand] = {}
    for name, texts in filled.items():
        if name not in known:
            faults.add(place.key(short(name)), _unknown_input(name, check))
        elif value := operand(texts, _wanted(known[name]), scope, place.key(name), faults):
            found[name] = value
            _check_range(value, known[name], place.key(name), faults)
    for name, item in known.items():
        if item.required and name not in filled and not faults.stands_at(place):
            faults.add(place, f'{check.name} needs "{name}": {item.says}')
    return found


def _check_range(value: Operand, item: Input, place: Place, faults: Faults) -> None:
    if not isinstance(value, Literal):
        return
    try:
        item.refuse_outside(value.value)
    except OutOfRange as outside:
        faults.add(place, str(outside))


def _wanted(item: Input) -> Wanted:
    return Wanted(item.unit, item.choices, item.many)


def _unknown_input(name: str, check: Check) -> str:
    names = [item.name for item in check.inputs]
    near = get_close_matches(name, names, 1)
    hint = f'did you mean "{near[0]}"?' if near else f"it takes {', '.join(names)}"
    return f'{check.name} has no input "{short(name)}"; {hint}'
