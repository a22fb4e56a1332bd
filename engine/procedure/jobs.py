"""The jobs that a procedure can become: which of its steps can stand together, by their conditions."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product
from math import prod

from engine.finding import Value
from engine.procedure.limit import Expression
from engine.procedure.limit_tree import Compare, Label, LabelName, Name, Node, Number, Same
from engine.procedure.model import Entry, Procedure, Step

MOST_WAYS = 20_000
"""Ways to answer, and jobs, that are tried at most (project rule)."""

_BESIDE = 1e-6
"""How far beside a number that a condition names its two sides are tried [base unit]. A project rule."""

_SIZES = ("2 AWG", "18 AWG")
"""Two wire sizes that are not the same: what a condition on two wires turns on."""


class TooManyJobs(Exception):
    """The conditions take more answers than are tried."""


def jobs(procedure: Procedure, steps: Iterable[Step]) -> list[tuple[Step, ...]]:
    """Return each set of ``steps`` that can stand together in one job, in working order.

    Every answer that can turn one of their conditions is tried: each choice, yes and no, both sides of each number that
    a condition names, the ends of a range. What decides which steps belong to a job cannot be left out.

    Raises:
        TooManyJobs: if that takes more than ``MOST_WAYS`` ways.
    """
    here = tuple(steps)
    whens = list(dict.fromkeys(step.when for step in here if step.when is not None))
    held: list[frozenset[Expression]] = [frozenset()]
    for part in _parts(procedure, whens):
        found = _held(procedure, part)
        if len(held) * len(found) > MOST_WAYS:
            raise TooManyJobs
        held = [one | other for one in held for other in found]
    return [tuple(s for s in here if s.when is None or s.when in truths) for truths in held]


def _parts(procedure: Procedure, whens: Sequence[Expression]) -> list[list[Expression]]:
    """Return the conditions in parts that share no entry, so that each part turns by itself."""
    parts: list[tuple[set[str], list[Expression]]] = []
    for when in whens:
        names, part = set(_all_names(procedure, when)), [when]
        for other in [other for other in parts if not names.isdisjoint(other[0])]:
            parts.remove(other)
            names |= other[0]
            part = other[1] + part
        parts.append((names, part))
    return [part for _, part in parts]


def _all_names(procedure: Procedure, when: Expression) -> Iterator[str]:
    """Give the entries that a condition turns on: its own, and those on which it depends whether these are asked."""
    seen, to_do = set[str](), list(when.names)
    while to_do:
        name = to_do.pop()
        if name not in seen:
            seen.add(name)
            yield name
            to_do.extend(other for asked in procedure.conditions.get(name, ()) for other in asked.names)


def _held(procedure: Procedure, whens: Sequence[Expression]) -> list[frozenset[Expression]]:
    """Return each set of conditions that hold together while the others of ``whens`` do not."""
    found = (frozenset(when for when in whens if when.holds(values) is True) for values in ways(procedure, whens))
    return list(dict.fromkeys(found))


def ways(procedure: Procedure, whens: Sequence[Expression]) -> Iterator[Mapping[str, Value]]:
    """Give every way to answer what some conditions turn on, by id: what is not asked under an answer is not there.

    Raises:
        TooManyJobs: if there are more than ``MOST_WAYS``.
    """
    wanted = {name for when in whens for name in _all_names(procedure, when)}
    entries = [entry for entry in procedure.entry_by_id.values() if entry.id in wanted]
    trees = [w.tree for w in (*whens, *(w for e in entries for w in procedure.conditions.get(e.id, ())))]
    answers = [list(_answers(entry, trees)) for entry in entries]
    if prod(map(len, answers)) > MOST_WAYS:
        raise TooManyJobs
    return (_counted(procedure, entries, way) for way in product(*answers))


def _counted(procedure: Procedure, entries: Sequence[Entry], way: Sequence[Value]) -> Mapping[str, Value]:
    """Return the answers of those entries that are asked under the answers before them."""
    values: dict[str, Value] = {}
    for entry, value in zip(entries, way, strict=True):
        asked = procedure.conditions.get(entry.id, ())
        if all(when.holds(values) is True for when in asked):
            values[entry.id] = value
    return values


def _answers(entry: Entry, trees: Sequence[Node]) -> Iterator[Value]:
    """Give the answers of an entry that can turn a condition: one of each kind."""
    if entry.unit == "yes/no":
        yield from (True, False)
    elif entry.unit == "choice":
        yield from entry.choices
    elif entry.hard is None:
        named = {str(label) for tree in trees for label in _labels(tree, entry.id)}
        yield from dict.fromkeys((*named, *_SIZES))
    else:
        yield from _numbers(entry, trees)


def _numbers(entry: Entry, trees: Sequence[Node]) -> Iterator[float]:
    low, high = entry.hard or (0.0, 0.0)
    beside = 1.0 if entry.unit == "" else _BESIDE
    named = [value for tree in trees for value in _limits(tree, entry.id)]
    tried = [low, high, *(each for value in named for each in (value - beside, value, value + beside))]
    yield from sorted({number for number in tried if low <= number <= high})


def _limits(tree: Node, name: str) -> Iterator[float]:
    """Give the numbers that an entry is compared with in a condition."""
    match tree:
        case Compare(_, Name(id=one), Number(value=value)) | Compare(_, Number(value=value), Name(id=one)):
            if one == name:
                yield value
        case _:
            yield from (value for inner in _inside(tree) for value in _limits(inner, name))


def _labels(tree: Node, name: str) -> Iterator[str | bool]:
    match tree:
        case Same(_, LabelName(id=one), Label(value=value)):
            if one == name:
                yield value
        case _:
            yield from (value for inner in _inside(tree) for value in _labels(inner, name))


def _inside(tree: Node) -> Iterator[Node]:
    for field in ("left", "right", "inner"):
        part = getattr(tree, field, ())
        yield from part if isinstance(part, tuple) else (part,)
