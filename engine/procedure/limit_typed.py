"""Makes the nodes of a limit and refuses, in one sentence, those whose units cannot meet."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, cast

from engine.nearest import nearest
from engine.procedure import amounts
from engine.procedure.limit_tokens import LimitFault, Token
from engine.procedure.limit_tree import (
    NUMERIC,
    TRUTH,
    Both,
    Compare,
    Either,
    Label,
    LabelName,
    Name,
    Negative,
    Node,
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
from engine.procedure.limit_units import UNITS, Unit, alike, product, total, words
from engine.quantity.amount import Kind
from engine.quantity.pin_rows import PIN_MAP
from engine.quantity.wanted import LABEL_UNITS

FLIPPED = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "==", "!=": "!="}


@dataclass(frozen=True, slots=True)
class Asked:
    """The names that a limit may use: the unit of each as written, and the choices of those that have them."""

    units: Mapping[str, str]
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def number(token: Token) -> Number:
    """Return a number written in the limit, in base units."""
    text = f"{token.text} {token.unit}".rstrip()
    read = amounts.written(token.text, token.unit)
    if isinstance(read, amounts.Wrong):
        raise LimitFault(read.sentence, token.column)
    return Number(text, read.number, UNITS[read.kind])


def name(token: Token, asked: Asked) -> Name | LabelName:
    """Return what is asked under that name."""
    unit = asked.units.get(token.text)
    if unit is None:
        raise LimitFault(unknown_name(token.text, asked.units), token.column)
    if unit == PIN_MAP:
        raise LimitFault("a pin map is judged by the check pin-map, not by a limit", token.column)
    if unit in LABEL_UNITS:
        return LabelName(token.text, unit)
    return Name(token.text, UNITS[amounts.kind(unit)])


def unknown_name(given: str, known: Mapping[str, str]) -> str:
    """Return the sentence for a name that no fact and no reading has, with the nearest one that exists."""
    hint = nearest(given, known, "name a fact or a reading of this procedure")
    return f'no fact or reading is called "{given}"; {hint}'


def add(token: Token, left: Node, right: Node) -> Sum:
    """Return a sum or a difference."""
    mine, theirs = numeric(token, left), numeric(token, right)
    unit = total(token.text, mine.unit, theirs.unit)
    if unit is None:
        raise LimitFault(_cannot("added" if token.text == "+" else "subtracted", mine, theirs), token.column)
    mine, theirs = _meet(mine, theirs)
    return Sum(cast(Literal["+", "-"], token.text), mine, theirs, unit)


def times(token: Token, left: Node, right: Node) -> Product:
    """Return a product or a quotient."""
    mine, theirs = _share(numeric(token, left)), _share(numeric(token, right))
    unit = product(token.text, mine.unit, theirs.unit)
    if unit is None:
        raise LimitFault("a temperature cannot be multiplied or divided; a difference of two can", token.column)
    return Product(cast(Literal["*", "/"], token.text), mine, theirs, unit)


def _share(node: Numeric) -> Numeric:
    """Return a percent that is written in a product as its plain share, so that 50 % is exactly one half."""
    if isinstance(node, Number) and node.unit.kind is Kind.RATIO:
        return Number(node.text, node.value / 100, Unit(node.unit.powers))
    return node


def negative(token: Token, inner: Node) -> Number | Negative:
    """Return a number with its sign turned."""
    found = numeric(token, inner)
    if isinstance(found, Number) and not found.text.startswith("-"):
        return Number(f"-{found.text}", amounts.negative(found.value, found.text), found.unit)
    if found.unit.kind is Kind.TEMPERATURE:
        raise LimitFault("a temperature cannot be turned negative", token.column)
    return Negative(found, found.unit)


def pick(token: Token, inner: list[Node]) -> Pick:
    """Return a ``min``, ``max`` or ``abs``."""
    if token.text == "abs":
        return _size(token, inner)
    if len(inner) < 2:
        raise LimitFault(f"{token.text} needs two values or more, parted by a comma", token.column)
    first, *others = (numeric(token, node) for node in inner)
    for other in others:
        if not alike(first.unit, other.unit):
            raise LimitFault(_cannot("compared", first, other), token.column)
    shared = first.unit if all(other.unit.scale == first.unit.scale for other in others) else Unit(first.unit.powers)
    return Pick(
        cast(Literal["min", "max"], token.text), tuple(_scaled(node, shared) for node in (first, *others)), shared
    )


def _size(token: Token, inner: list[Node]) -> Pick:
    if len(inner) != 1:
        raise LimitFault("abs takes one value", token.column)
    found = numeric(token, inner[0])
    if found.unit.kind is Kind.TEMPERATURE:
        raise LimitFault("abs takes a difference of temperatures, not a temperature", token.column)
    return Pick("abs", (found,), found.unit)


def compare(token: Token, left: Node, right: Node) -> Compare | Same:
    """Return a comparison of two numbers of one kind; labels go to ``labelled`` instead."""
    mine, theirs = numeric(token, left), numeric(token, right)
    if not alike(mine.unit, theirs.unit):
        raise LimitFault(_cannot("compared", mine, theirs), token.column)
    mine, theirs = _meet(mine, theirs)
    return Compare(cast(Literal["<", "<=", ">", ">=", "==", "!="], token.text), mine, theirs)


def labelled(token: Token, left: Node, right: Node, asked: Asked) -> Same:
    """Return a comparison of labels: a name with a text in quotes, or two names of one form."""
    if isinstance(left, Label):
        left, right = right, left
    if token.text not in ("==", "!="):
        raise LimitFault("labels can only be compared with == and !=", token.column)
    if not isinstance(left, LabelName) or not isinstance(right, LabelName | Label):
        raise LimitFault("a number and a label cannot be compared", token.column)
    if isinstance(right, LabelName) and right.form != left.form:
        raise LimitFault(f"{left.id} ({left.form}) and {right.id} ({right.form}) cannot be compared", token.column)
    if isinstance(right, Label):
        right = _label(token, right.text, left, asked)
    return Same(cast(Literal["==", "!="], token.text), left, right)


def _label(token: Token, text: str, against: LabelName, asked: Asked) -> Label:
    choices = asked.choices.get(against.id, ())
    if against.form == "choice" and choices and text not in choices:
        raise LimitFault(f'"{text}" is not a choice of {against.id}; it has {", ".join(choices)}', token.column)
    value = amounts.label(text, against.form)
    if isinstance(value, amounts.Wrong):
        raise LimitFault(value.sentence, token.column)
    return Label(text, value)


def truth(token: Token, node: Node) -> Truth:
    """Return a node that holds or does not, for ``and``, ``or``, ``not`` and for the whole limit."""
    if isinstance(node, TRUTH):
        return node
    if isinstance(node, LabelName) and node.form == "yes/no":
        raise LimitFault(f'compare it: {node.id} == "yes"', token.column)
    raise LimitFault("this says nothing yet: compare it with something, such as >= 1 mm", token.column)


def numeric(token: Token, node: Node) -> Numeric:
    """Return a node that is a number, for sums, comparisons and for a whole expression."""
    if isinstance(node, NUMERIC):
        return node
    if isinstance(node, LabelName):
        raise LimitFault(f"{node.id} is no number ({node.form}); compare it with == and a text in quotes", token.column)
    if isinstance(node, Label):
        raise LimitFault(f'"{node.text}" is a text; write a number with its unit, without quotes', token.column)
    raise LimitFault("a comparison is no number; join comparisons with and, or", token.column)


def both(token: Token, left: Node, right: Node) -> Both:
    """Return ``left and right``."""
    return Both(truth(token, left), truth(token, right))


def either(token: Token, left: Node, right: Node) -> Either:
    """Return ``left or right``."""
    return Either(truth(token, left), truth(token, right))


def negated(token: Token, inner: Node) -> Not:
    """Return ``not inner``."""
    return Not(truth(token, inner))


def _meet(left: Numeric, right: Numeric) -> tuple[Numeric, Numeric]:
    if left.unit.scale == right.unit.scale:
        return left, right
    plain = Unit(left.unit.powers)
    return _scaled(left, plain), _scaled(right, plain)


def _scaled(node: Numeric, wanted: Unit) -> Numeric:
    factor = node.unit.scale / wanted.scale
    return node if factor == 1.0 else Scaled(node, factor, wanted)


def _cannot(verb: str, left: Numeric, right: Numeric) -> str:
    bare = next((side for side in (left, right) if isinstance(side, Number) and " " not in side.text), None)
    pair = f"{_shown(left)} and {_shown(right)} cannot be {verb}"
    if bare is None:
        return pair
    other = right if bare is left else left
    return f"{pair}; {bare.text} needs a unit, such as {bare.text} {amounts.example_unit(other.unit.kind)}"


def _shown(node: Numeric) -> str:
    if isinstance(node, Number | Name):
        return f"{node.text if isinstance(node, Number) else node.id}, {words(node.unit)},"
    return words(node.unit)
