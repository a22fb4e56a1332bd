"""Turns the tree of a limit into closures, once, so that judging it costs little more than the sum itself."""

import operator
from collections.abc import Callable, Mapping
from typing import Any

from engine.finding import Value
from engine.procedure.limit_tree import (
    Both,
    Compare,
    Either,
    Label,
    Name,
    Negative,
    Not,
    Number,
    Numeric,
    Pick,
    Product,
    Same,
    Scaled,
    Sum,
    Truth,
)

Values = Mapping[str, Value]
Numbers = Callable[[Any], Any]
Truths = Callable[[Any], bool | None]

ABSENT = (KeyError, TypeError, ZeroDivisionError)
"""What a sum runs into when a value is not there: no such key, None, or nothing to divide by."""

_SIGNS: dict[str, Callable[[Any, Any], Any]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
    "!=": operator.ne,
}


def number_of(node: Numeric) -> Numbers:
    """Return a function from values to the node's number; it raises one of ``ABSENT`` if a value is not there."""
    match node:
        case Number(value=value):
            return lambda values: value
        case Name(id=name):
            return operator.itemgetter(name)
        case Sum(sign, left, right) | Product(sign, left, right):
            return _two(_SIGNS[sign], left, right)
        case Negative(inner):
            turned = number_of(inner)
            return lambda values: -turned(values)
        case Scaled(inner, factor):
            plain = number_of(inner)
            return lambda values: plain(values) * factor
        case Pick(name, inner):
            return _pick(name, [number_of(part) for part in inner])


def truth_of(node: Truth) -> Truths:
    """Return a function from values to whether the node holds; None, or one of ``ABSENT``, if it cannot be told."""
    match node:
        case Compare(sign, left, right):
            return _compare(_SIGNS[sign], number_of(left), number_of(right), right)
        case Same(sign, left, right):
            return _same(sign == "==", left.id, right)
        case Both(left, right):
            return _joined(truth_of(left), truth_of(right), deciding=False)
        case Either(left, right):
            return _joined(truth_of(left), truth_of(right), deciding=True)
        case Not(inner):
            turned = truth_of(inner)
            return lambda values: None if (held := turned(values)) is None else not held


def _two(do: Callable[[Any, Any], Any], left: Numeric, right: Numeric) -> Numbers:
    mine = number_of(left)
    if isinstance(right, Number):
        fixed = right.value
        return lambda values: do(mine(values), fixed)
    theirs = number_of(right)
    return lambda values: do(mine(values), theirs(values))


def _pick(name: str, parts: list[Numbers]) -> Numbers:
    if name == "abs":
        inner = parts[0]
        return lambda values: abs(inner(values))
    choose = min if name == "min" else max
    return lambda values: choose([part(values) for part in parts])


def _compare(do: Callable[[Any, Any], bool], mine: Numbers, theirs: Numbers, right: Numeric) -> Truths:
    fixed = right.value if isinstance(right, Number) else None

    def against_fixed(values: Values) -> bool | None:
        left = mine(values)
        return do(left, fixed) if left == left else None  # inf - inf is no number, and equals nothing

    def against_sum(values: Values) -> bool | None:
        left, other = mine(values), theirs(values)
        return do(left, other) if left == left and other == other else None

    return against_sum if fixed is None else against_fixed


def _same(wanted: bool, name: str, right: Any) -> Truths:  # noqa: ANN401 -- a name or a label
    fixed = right.value if isinstance(right, Label) else None
    other = None if isinstance(right, Label) else right.id

    def same(values: Values) -> bool | None:
        mine = values[name]
        theirs = fixed if other is None else values[other]
        return None if mine is None or theirs is None else (mine == theirs) is wanted

    return same


def _joined(left: Truths, right: Truths, *, deciding: bool) -> Truths:
    """Return ``or`` (deciding True) or ``and`` (deciding False): one deciding side is enough."""

    def joined(values: Values) -> bool | None:
        mine = tried(left, values)
        if mine is deciding:
            return deciding
        theirs = tried(right, values)
        if theirs is deciding:
            return deciding
        return None if mine is None or theirs is None else not deciding

    return joined


def tried(run: Truths, values: Values) -> bool | None:
    """Return what ``run`` says, None if a value is not there."""
    try:
        return run(values)
    except ABSENT:
        return None
