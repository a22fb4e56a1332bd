"""Says a limit in words for people: ``at least 11.0 mm: barrel depth 12.0 mm less 1 mm``."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Value
from engine.procedure import amounts
from engine.procedure.limit_run import ABSENT, number_of
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
from engine.procedure.limit_typed import FLIPPED
from engine.procedure.limit_units import Unit, kind_of

_COMPARED = {"<": "below", "<=": "at most", ">": "above", ">=": "at least", "==": "exactly", "!=": "not"}
_JOINED = {"+": "plus", "-": "less", "*": "times", "/": "divided by"}
_PICKED = {"min": "the smallest of", "max": "the largest of", "abs": "the size of"}

Values = Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Speaker:
    """Says nodes in words. ``units`` are the units of the names as their entries show them."""

    units: Mapping[str, str]

    def sentence(self, node: Truth, values: Values) -> str:
        """Return the whole limit. The subject is left out where the limit is one comparison of one reading."""
        if isinstance(node, Compare):
            return self._compare(node, values, subject=not _plain_subject(node))
        return self.truth(node, values)

    def truth(self, node: Truth, values: Values) -> str:
        """Return a node that holds or not, with its subject."""
        match node:
            case Compare():
                return self._compare(node, values, subject=True)
            case Same(sign, left, right):
                return f"{_named(left)} is {'not ' if sign == '!=' else ''}{_named(right)}"
            case Both(left, right):
                return f"{self._part(left, values)} and {self._part(right, values)}"
            case Either(left, right):
                return f"{self.truth(left, values)} or {self.truth(right, values)}"
            case Not(inner):
                return f"not ({self.truth(inner, values)})"

    def number(self, node: Numeric, values: Values) -> str:
        """Return a sum in words, each reading with its value if it is there."""
        match node:
            case Number(text=text):
                return text
            case Name(id=name):
                shown = self._value(node, values, self.units.get(name, ""))
                return f"{_spaced(name)} {shown}".rstrip()
            case Sum(sign, left, right) | Product(sign, left, right):
                first, second = self._inner(left, values, sign, first=True), self._inner(right, values, sign)
                return f"{first} {_JOINED[sign]} {second}"
            case Negative(inner):
                return f"minus {self._inner(inner, values, '*')}"
            case Scaled(inner):
                return self.number(inner, values)
            case Pick(name, inner):
                parts = [self.number(part, values) for part in inner]
                return f"{_PICKED[name]} {_listed(parts)}" if len(parts) > 1 else f"{_PICKED[name]} ({parts[0]})"

    def _compare(self, node: Compare, values: Values, *, subject: bool) -> str:
        sign, left, right = node.sign, node.left, node.right
        if isinstance(_bare(left), Number) and not isinstance(_bare(right), Number):
            sign, left, right = FLIPPED[sign], right, left  # type: ignore[assignment]
        said = f"{_COMPARED[sign]} {self._held_against(left, right, values)}"
        return f"{self._subject(left, values)} {said}" if subject else said

    def _subject(self, left: Numeric, values: Values) -> str:
        bare = _bare(left)
        return _spaced(bare.id) if isinstance(bare, Name) else self.number(left, values)

    def _held_against(self, left: Numeric, right: Numeric, values: Values) -> str:
        bare = _bare(right)
        if isinstance(bare, Number):
            return bare.text
        shown = self._value(right, values, self._unit_of(right) or self._unit_of(left))
        words = _spaced(bare.id) if isinstance(bare, Name) else self.number(right, values)
        return f"{shown}: {words}" if shown else words

    def _inner(self, node: Numeric, values: Values, sign: str, *, first: bool = False) -> str:
        said = self.number(node, values)
        nested = isinstance(node, Sum) and (sign in "*/" or (sign == "-" and not first))
        divided = isinstance(node, Product) and sign == "/" and not first
        return f"({said})" if nested or divided else said

    def _part(self, node: Truth, values: Values) -> str:
        said = self.truth(node, values)
        return f"({said})" if isinstance(node, Either) else said

    def _unit_of(self, node: Numeric) -> str:
        """Return the unit that the first name of the same kind is shown in, so that readers meet their own units."""
        wanted = kind_of(node.unit)
        for name in _names(node):
            unit = self.units.get(name.id, "")
            if unit and wanted is not None and amounts.kind(unit) is wanted:
                return unit
        return ""

    def _value(self, node: Numeric, values: Values, unit: str) -> str:
        try:
            value = number_of(node)(values)
        except ABSENT:
            return ""
        if not isinstance(value, int | float) or isinstance(value, bool):
            return ""
        return shown(float(value), node.unit, unit)


def shown(value: float, unit: Unit, wanted: str) -> str:
    """Return a number of a limit as people read it: ``11.0 mm``.

    Args:
        value: The number, in ``unit``.
        unit: What the tree says that it is in.
        wanted: The unit to show it in; empty for the base unit of its kind.
    """
    kind = kind_of(unit)
    if kind is None:
        return f"{value:.4g}"
    if wanted and amounts.kind(wanted) is kind:
        value = amounts.shown_in(value, wanted)
    return f"{_digits(value, kind.value)} {wanted or kind.value}".rstrip()


def _digits(value: float, unit: str) -> str:
    rounded = f"{value:.4g}"
    short = unit and abs(value) < 100 and "." not in rounded and "e" not in rounded
    return f"{rounded}.0" if short and rounded.lstrip("-").isdigit() else rounded


def _plain_subject(node: Compare) -> bool:
    left, right = _bare(node.left), _bare(node.right)
    return isinstance(left, Name) or (isinstance(left, Number) and isinstance(right, Name))


def _bare(node: Numeric) -> Numeric:
    return node.inner if isinstance(node, Scaled) else node


def _names(node: Numeric) -> list[Name]:
    match node:
        case Name():
            return [node]
        case Sum(_, left, right) | Product(_, left, right):
            return [*_names(left), *_names(right)]
        case Negative(inner) | Scaled(inner):
            return _names(inner)
        case Pick(_, inner):
            return [name for part in inner for name in _names(part)]
    return []


def _named(node: LabelName | Label) -> str:
    return node.text if isinstance(node, Label) else _spaced(node.id)


def _spaced(name: str) -> str:
    return name.replace("_", " ")


def _listed(parts: list[str]) -> str:
    return f"{', '.join(parts[:-1])} and {parts[-1]}"
