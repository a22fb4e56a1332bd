"""Holds the parts of a procedure against each other: ids that repeat, steps that are not there, gate circles."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from engine.procedure.faults import Faults
from engine.procedure.fields import Fields
from engine.procedure.model import Procedure


def check_repeats(kind: str, tables: Iterable[Fields], faults: Faults) -> None:
    """Note every id that an earlier table of the same kind has."""
    seen: dict[str, Fields] = {}
    for table in tables:
        if not table.has("id"):
            continue
        name = table.text("id")
        if name in seen:
            first = seen[name].place
            faults.add(table.place.key("id"), f'"{name}" is taken by the {kind} on line {first.line}; ids never repeat')
        seen.setdefault(name, table)


def check_names(given: Fields, key: str, known: Iterable[str], kind: str, faults: Faults) -> None:
    """Note every name under a key, one or a list, that does not exist. ``kind`` is what it should name: ``a step``."""
    names = list(known)
    value = given.values.get(key, [])
    for name in [value] if isinstance(value, str) else given.texts(key):
        if name not in names:
            near = get_close_matches(name, names, 1)
            hint = f'did you mean "{near[0]}"?' if near else f"name {kind} of this procedure"
            faults.add(given.place.key(key), f'no {kind.rpartition(" ")[2]} is called "{name}"; {hint}')


def check_circles(procedure: Procedure, steps: Mapping[str, Fields], faults: Faults) -> None:
    """Note each circle of gates once: none of its steps could ever be the first."""
    needs = {step.id: [need for need in step.needs if need in procedure.step_by_id] for step in procedure.steps}
    for circle in circles(needs):
        way = " -> ".join((*circle, circle[0]))
        faults.add(steps[circle[0]].place.key("needs"), f"the gates go in a circle, {way}; take one of them out")


def circles(needs: Mapping[str, list[str]]) -> list[list[str]]:
    """Return the circles of a graph of gates, each found once, in the order of its steps.

    Example:
        >>> circles({"a": ["b"], "b": ["a"], "c": ["a"]})
        [['a', 'b']]
    """
    found: list[list[str]] = []
    settled: set[str] = set()
    for start in needs:
        _walk(start, needs, settled, found)
    return found


def _walk(start: str, needs: Mapping[str, list[str]], settled: set[str], found: list[list[str]]) -> None:
    """Go through the gates from one step, without recursion: a procedure may be long."""
    way: list[str] = []
    todo: list[tuple[str, bool]] = [(start, True)]
    while todo:
        step, entering = todo.pop()
        if not entering:
            settled.add(way.pop())
        elif step in way:
            found.append(way[way.index(step) :])
        elif step not in settled:
            way.append(step)
            todo.append((step, False))
            todo += [(need, True) for need in reversed(needs[step])]
