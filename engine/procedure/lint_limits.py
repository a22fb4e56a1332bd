"""Lint: limits that say nothing, since every answer or none meets them, and limits that say the wrong thing."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from math import prod

from engine.finding import Value, Verdict
from engine.procedure.faults import Place
from engine.procedure.limit import Expression
from engine.procedure.limit_range import Span
from engine.procedure.limit_tree import Both, Compare, Name, Node
from engine.procedure.load import Loaded
from engine.procedure.model import Entry, Procedure, StepLimit

Found = Iterator[tuple[Place, str]]

INFINITE = float("inf")

MOST_WAYS = 10_000
"""Ways to answer that are tried at most for one limit (project rule)."""


def limit_faults(loaded: Loaded) -> Found:
    """Give every limit and every condition that holds always or never, and every limit that a reversed sign meets."""
    for step in loaded.procedure.steps:
        for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
            held = over(loaded.procedure, limit.expression)
            if held is not None:
                yield place, _ALWAYS if held else _NEVER
            yield from _reversed(loaded.procedure, place, limit.expression)
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.when and (held := over(loaded.procedure, check.when)) is not None:
                yield place.key("when"), _condition(held=held)
        if step.when and over(loaded.procedure, step.when):
            yield loaded.steps[step.id].key("when"), _condition(held=True)
    for entry in loaded.procedure.entry_by_id.values():
        if entry.when and (held := over(loaded.procedure, entry.when)) is not None:
            yield loaded.entries[entry.id].key("when"), _condition(held=held)


def limit_doubts(loaded: Loaded) -> Found:
    """Give every limit that the usual answers do not meet, and every one whose reason says the contrary of its sign."""
    entries = loaded.procedure.entry_by_id
    for step in loaded.procedure.steps:
        for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
            signs = [node.sign for node in _nodes(limit.expression.tree) if isinstance(node, Compare)]
            asked = [entries[name] for name in sorted(limit.expression.names)]
            if twice := _one_side_twice(limit.expression.tree):
                yield place, f"bounds {twice} from one side twice; turn one of the two"
            elif "!=" in signs:
                yield place, "a number is almost never equal; say what it must be at least, at most, or exactly"
            elif len(signs) == 1 and (said := _contrary(limit.says, signs[0])):
                yield place, f'says "{said}" and asks for {signs[0]}; turn one of the two'
            elif not signs:
                yield from _first_answers(place, limit, asked)
            elif "==" not in signs:
                yield from _never_usual(place, limit, asked, signs)


def _one_side_twice(tree: Node) -> str:
    """Return a name that a limit bounds twice from the same side, and not from the other."""
    bound = [(name, low) for name, low in _bounds(tree)]
    return next((name for name, low in bound if bound.count((name, low)) > 1 and (name, not low) not in bound), "")


def _contrary(says: str, sign: str) -> str:
    """Return the words of a reason that say the contrary of a sign."""
    words = _AT_MOST if sign[0] == ">" else _AT_LEAST
    found = words.search(says)
    return found[0] if found else ""


_AT_MOST = re.compile(r"\b(at most|or less|no more|less than|not over|stays? under)\b")
_AT_LEAST = re.compile(r"\b(at least|no less|reach(?:es)?)\b")


_ALWAYS = "every value in the hard range meets it; tighten the limit or widen the range"
_NEVER = "no value in the hard range can meet it; mend the limit or the range"


def _condition(*, held: bool) -> str:
    return f"this condition {'always' if held else 'never'} holds in the hard ranges; mend it or take it out"


def over(procedure: Procedure, expression: Expression) -> bool | None:
    """Return True if every answer that can be given meets it, False if none can, None if some may."""
    asked = [procedure.entry_by_id[name] for name in sorted(expression.names)]
    ranges = {entry.id: span for entry in asked if (span := _span(entry))}
    labels = {entry.id: _answers(entry) for entry in asked if _answers(entry)}
    if prod(map(len, labels.values())) > MOST_WAYS:
        return None
    ways: list[Mapping[str, Value]] = [dict(zip(labels, way, strict=True)) for way in product(*labels.values())]
    held = {expression.over(ranges, way) for way in ways}
    return held.pop() if len(held) == 1 else None


def _answers(entry: Entry) -> tuple[Value, ...]:
    return (True, False) if entry.unit == "yes/no" else entry.choices


def _span(entry: Entry) -> Span | None:
    if entry.hard is None:
        return None
    return (entry.hard[0], INFINITE) if entry.over_range else entry.hard


def _reversed(procedure: Procedure, place: Place, limit: Expression) -> Found:
    """Give a limit that bounds volts from above alone, where a reversed sign is among the readings."""
    bound = list(_bounds(limit.tree))
    for name in dict.fromkeys(name for name, low in bound if not low):
        entry = procedure.entry_by_id[name]
        if entry.unit in ("V", "mV") and entry.hard and entry.hard[0] < 0 and (name, True) not in bound:
            yield place, f"reversed volts of {name} meet it too; write abs({name}), or bound them from below as well"


def _bounds(tree: Node) -> Iterator[tuple[str, bool]]:
    """Give each name that a number bounds as it stands, and whether from below."""
    match tree:
        case Both(left, right):
            yield from (*_bounds(left), *_bounds(right))
        case Compare(sign, left, right) if sign in ("<", "<=", ">", ">="):
            upper, lower = (left, right) if sign in ("<", "<=") else (right, left)
            yield from ((name, False) for name in _bare(upper))
            yield from ((name, True) for name in _bare(lower))


def _bare(node: Node) -> list[str]:
    return [node.id] if isinstance(node, Name) else []


def _first_answers(place: Place, limit: StepLimit, asked: Sequence[Entry]) -> Found:
    """Give a limit on answers that the first of each does not meet: yes, and the choice that stands first."""
    first = {entry.id: answers[0] for entry in asked if (answers := _answers(entry))}
    if limit.expression.holds(first) is False:
        yield place, "the first answers do not meet it; put the good answer first, and ask so that yes is good"


def _never_usual(place: Place, limit: StepLimit, asked: Sequence[Entry], signs: Sequence[str]) -> Found:
    """Give a limit that no usual values meet, those at the ends of their ranges left out; of several, from one side."""
    usual = [_usual(entry) for entry in asked]
    bound = set(_bounds(limit.expression.tree))
    on_both_sides = len(asked) > 1 and any((name, not low) in bound for name, low in bound)
    if on_both_sides or not all(usual) or prod(map(len, usual)) > MOST_WAYS:
        return
    names = [entry.id for entry in asked]
    held = [limit.expression.holds(dict(zip(names, way, strict=True))) for way in product(*usual)]
    middle = held[len(held) // 2]
    if not any(held) or (len(asked) == 1 and middle is False and limit.otherwise is Verdict.FAIL):
        yield place, "usual values do not meet it; turn the limit, or mend the ranges"


def _usual(entry: Entry) -> list[Value]:
    """Return usual values of an entry: the first answer of a choice, and three inside a usual range."""
    if entry.likely:
        low, high = entry.likely
        return [low + (high - low) * share for share in (0.25, 0.5, 0.75)]
    return [*_answers(entry)[:1]]


def _nodes(tree: Node) -> Iterator[Node]:
    yield tree
    for field in ("left", "right", "inner"):
        part = getattr(tree, field, ())
        for inner in part if isinstance(part, tuple) else (part,):
            yield from _nodes(inner)
