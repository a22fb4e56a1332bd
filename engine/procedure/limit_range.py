"""What a limit can be over whole ranges of its names: met by every value, by none, or by some (interval arithmetic)."""

import math
from collections.abc import Mapping

from engine.finding import Value
from engine.procedure.limit_tree import (
    Both,
    Compare,
    Either,
    Label,
    LabelName,
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

Span = tuple[float, float]
"""Least and largest value, in base units; infinite where nothing is known."""

ANY: Span = (-math.inf, math.inf)


def outcome(node: Truth, ranges: Mapping[str, Span], labels: Mapping[str, Value] | None = None) -> bool | None:
    """Return True if every value of the ranges meets it, False if none can, None if some may.

    An answer of True or False is sure; None also covers what interval arithmetic cannot tell.

    Args:
        node: The limit.
        ranges: (least, largest) of each number by id [base units]; a name without one may be anything.
        labels: The answers that are no numbers, by id; a name without one may be anything.
    """
    match node:
        case Compare(sign, left, right):
            return _compare(sign, span(left, ranges), span(right, ranges))
        case Same(sign, LabelName(id=name), right):
            return _same(sign, name, right, labels or {})
        case Both(left, right):
            return _joined(outcome(left, ranges, labels), outcome(right, ranges, labels), deciding=False)
        case Either(left, right):
            return _joined(outcome(left, ranges, labels), outcome(right, ranges, labels), deciding=True)
        case Not(inner):
            held = outcome(inner, ranges, labels)
            return None if held is None else not held


def _same(sign: str, name: str, right: LabelName | Label, labels: Mapping[str, Value]) -> bool | None:
    other = right.value if isinstance(right, Label) else labels.get(right.id)
    if name not in labels or other is None:
        return None
    return (labels[name] == other) is (sign == "==")


def span(node: Numeric, ranges: Mapping[str, Span]) -> Span:
    """Return between which values a number of the limit lies [base units]."""
    match node:
        case Number(value=value):
            return (value, value)
        case Name(id=name):
            return ranges.get(name, ANY)
        case Negative(inner):
            low, high = span(inner, ranges)
            return (-high, -low)
        case Scaled(inner, factor):
            low, high = span(inner, ranges)
            return (low * factor, high * factor)
        case Sum(sign, left, right):
            return _sum(sign, span(left, ranges), span(right, ranges))
        case Product(sign, left, right):
            return _product(sign, span(left, ranges), span(right, ranges))
        case Pick(name, inner):
            return _pick(name, [span(part, ranges) for part in inner])


def _sum(sign: str, left: Span, right: Span) -> Span:
    low, high = (right[0], right[1]) if sign == "+" else (-right[1], -right[0])
    return _sane(left[0] + low, left[1] + high)


def _product(sign: str, left: Span, right: Span) -> Span:
    if sign == "/":
        if right[0] <= 0 <= right[1]:
            return ANY
        corners = [mine / theirs for mine in left for theirs in right]
    else:
        corners = [mine * theirs for mine in left for theirs in right]
    return ANY if any(map(math.isnan, corners)) else (min(corners), max(corners))


def _pick(name: str, parts: list[Span]) -> Span:
    if name == "abs":
        low, high = parts[0]
        return (0.0 if low <= 0 <= high else min(abs(low), abs(high)), max(abs(low), abs(high)))
    choose = min if name == "min" else max
    return (choose(low for low, _ in parts), choose(high for _, high in parts))


def _sane(low: float, high: float) -> Span:
    return (-math.inf if math.isnan(low) else low, math.inf if math.isnan(high) else high)


def _compare(sign: str, left: Span, right: Span) -> bool | None:
    if sign in (">", ">="):
        return _compare("<" if sign == ">" else "<=", right, left)
    if sign == "!=":
        held = _compare("==", left, right)
        return None if held is None else not held
    if sign == "==":
        apart = left[1] < right[0] or right[1] < left[0]
        return False if apart else (True if left[0] == left[1] == right[0] == right[1] else None)
    if left[1] < right[0] or (sign == "<=" and left[1] == right[0]):
        return True
    return False if left[0] > right[1] or (sign == "<" and left[0] == right[1]) else None


def _joined(left: bool | None, right: bool | None, *, deciding: bool) -> bool | None:
    if left is deciding or right is deciding:
        return deciding
    return None if left is None or right is None else not deciding
