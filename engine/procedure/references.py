"""Holds the parts of a procedure against each other: ids that repeat, names of nothing, circles."""

from collections.abc import Iterable, Mapping, Sequence

from engine.nearest import nearest
from engine.procedure.faults import Faults, Place
from engine.procedure.model import Procedure
from engine.procedure.tables import Fields


def check_references(
    procedure: Procedure, head: Fields, steps: Sequence[Fields], entries: Sequence[tuple[str, Fields]], faults: Faults
) -> None:
    """Note every id that repeats, every name of something that is not there, and every circle.

    Args:
        procedure: The procedure as far as it could be read.
        head: Its own table.
        steps: The tables of its steps.
        entries: The rows of its facts and readings, by name.
        faults: Takes what is wrong.
    """
    _repeats("section", _ids(head.rows("section")), faults)
    _repeats("step", _ids(steps), faults)
    _repeats("entry", ((name, row.place.name) for name, row in entries), faults)
    _repeats("item", ((name, at.name) for step in steps for name, at in _opened(step)), faults)
    _repeats("item", ((name, row.place.name) for step in steps for name, row in step.by_id("due").items()), faults)
    known: dict[str, tuple[str, Iterable[str]]] = {
        "needs": ("a step", procedure.step_by_id),
        "closes": ("an item", [item.id for step in procedure.steps for item in step.opens]),
        **dict.fromkeys(("isolates", "proves_dead", "feeds", "hands_on"), ("a zone", procedure.zone_by_id)),
        **dict.fromkeys(("works", "proves", "makes"), ("a piece", procedure.piece_by_id)),
    }
    for step in steps:
        for key, (kind, names) in known.items():
            _names(step, key, kind, names, faults)
        for mend in step.by_id("mend").values():
            _names(mend, "works", "a piece", procedure.piece_by_id, faults)
    pieces = head.by_id("piece")
    for piece in pieces.values():
        _names(piece, "rests_on", "a piece", procedure.piece_by_id, faults)
    _circle("gates", {step.text("id"): step for step in steps}, "needs", faults)
    _circle("pieces", pieces, "rests_on", faults)


def _ids(tables: Iterable[Fields]) -> Iterable[tuple[str, Place]]:
    return ((each.text("id"), each.at("id")) for each in tables if "id" in each.values)


def _opened(step: Fields) -> Iterable[tuple[str, Place]]:
    return ((name, step.at("opens").row(name)) for name in step.values.get("opens", {}))


def _repeats(kind: str, ids: Iterable[tuple[str, Place]], faults: Faults) -> None:
    """Note every id that an earlier table of the same kind has."""
    seen: dict[str, Place] = {}
    for name, place in ids:
        if name in seen:
            faults.add(place, f'"{name}" is taken by the {kind} on line {seen[name].line}; ids never repeat')
        seen.setdefault(name, place)


def _names(given: Fields, key: str, kind: str, known: Iterable[str], faults: Faults) -> None:
    """Note every name under a key that does not exist. ``kind`` is what it should name: ``a step``."""
    names = list(known)
    for number, name in enumerate(given.values.get(key, ())):
        if name not in names:
            hint = nearest(name, names, f"name {kind} of this procedure")
            place = given.at(key).item(number, key)
            faults.add(place, f'no {kind.rpartition(" ")[2]} is called "{name}"; {hint}')


def _circle(kind: str, tables: Mapping[str, Fields], key: str, faults: Faults) -> None:
    """Note each circle once: none of its members could ever be the first."""
    graph = {name: [to for to in table.values.get(key, ()) if to in tables] for name, table in tables.items()}
    for circle in circles(graph):
        way = " -> ".join((*circle, circle[0]))
        faults.add(tables[circle[0]].at(key), f"the {kind} go in a circle, {way}; take one of them out")


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
