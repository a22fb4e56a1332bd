"""Lint: what cannot happen in the order of the file. Steps out of reach, values used too early."""

from collections.abc import Iterable, Iterator

from engine.procedure.faults import Place
from engine.procedure.limit import Expression
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.model_circuit import CircuitPart, FromPlan, Operand, Reference
from engine.procedure.offer import gaps

Found = Iterator[tuple[Place, str]]


def order_faults(loaded: Loaded) -> Found:
    """Give every fault of order."""
    yield from _gates_after(loaded)
    yield from _out_of_reach(loaded)
    yield from _used_before_taken(loaded)
    yield from _left_items(loaded)


def _gates_after(loaded: Loaded) -> Found:
    place_of = {step.id: number for number, step in enumerate(loaded.procedure.steps)}
    for number, step in enumerate(loaded.procedure.steps):
        for need in loaded.procedure.needs[step.id]:
            if need != step.id and place_of.get(need, -1) > number:
                yield (
                    loaded.steps[step.id].key("needs"),
                    f'needs "{need}", which comes later; move one of the two',
                )


def _out_of_reach(loaded: Loaded) -> Found:
    ranges = {entry.id: entry.hard for entry in loaded.procedure.entry_by_id.values() if entry.hard}
    never = {step.id for step in loaded.procedure.steps if step.when and step.when.over(ranges) is False}
    for step in loaded.procedure.steps:
        if step.id in never:
            sentence = "no values that are taken can meet this condition; the step is never reached"
            yield loaded.steps[step.id].key("when"), sentence
        for need in step.needs or ():
            if need in never and step.id not in never:
                yield loaded.steps[step.id].key("needs"), f'needs "{need}", which is never reached'


def _used_before_taken(loaded: Loaded) -> Found:
    taken: set[str] = set()
    known = set(loaded.procedure.entry_by_id)
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id]
        yield from _late(place.key("when"), _names(step.when), taken, known)
        for entry in loaded.procedure.entries_of(step):
            yield from _late(loaded.entries[entry.id].key("when"), _names(entry.when), taken, known)
            taken.add(entry.id)
        for where, names in _uses(loaded, step):
            yield from _late(where, names, taken, known)


def _uses(loaded: Loaded, step: Step) -> Iterator[tuple[Place, frozenset[str]]]:
    """Give every place of a step that judges or offers words, with the entries it uses."""
    for entry in step.readings:
        yield loaded.entries[entry.id].key("offers"), frozenset(gaps(entry.offers))
    for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
        yield place, limit.expression.names
    for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
        yield place.key("when"), _names(check.when)
        yield place, _operand_names(check.inputs.values())
        if any(isinstance(each, FromPlan) for each in check.inputs.values()):
            yield place, _circuit_names(loaded.procedure.circuit, built=True)
        elif check.name == "plan":
            yield place, _circuit_names(loaded.procedure.circuit, built=False)


def _late(place: Place, names: frozenset[str], taken: set[str], known: set[str]) -> Found:
    for name in sorted(names - taken):
        if name in known:
            yield place, f"uses {name} before it is taken; take it in this step or an earlier one"


def _names(expression: Expression | None) -> frozenset[str]:
    return expression.names if expression else frozenset()


def _operand_names(operands: Iterable[Operand]) -> frozenset[str]:
    return frozenset(name for each in operands if isinstance(each, Reference) for name in each.ids)


def _circuit_names(circuit: tuple[CircuitPart, ...], *, built: bool) -> frozenset[str]:
    named = [_names(part.when) for part in circuit]
    for part in circuit:
        work = part.built.values() if built else ()
        named.append(_operand_names([*part.found.values(), *part.planned.values(), *work]))
    return frozenset().union(*named)


def _left_items(loaded: Loaded) -> Found:
    opened: dict[str, Place] = {}
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id]
        for name in step.closes:
            if opened.pop(name, None) is None and _is_opened_later(loaded, step, name):
                yield place.key("closes"), f'finishes "{name}" before it is left to do; move the step down'
        opened |= {item.id: place.key("opens").row(item.id) for item in step.opens}
    for name, place in opened.items():
        yield place, f'"{name}" is never finished; a later step must have it in its closes'


def _is_opened_later(loaded: Loaded, step: Step, name: str) -> bool:
    steps = loaded.procedure.steps
    return any(item.id == name for later in steps[steps.index(step) :] for item in later.opens)
