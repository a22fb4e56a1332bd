"""The tree of a limit: frozen nodes whose units have been checked when they are made."""

from dataclasses import dataclass
from typing import Literal

from engine.procedure.limit_units import Unit


@dataclass(frozen=True, slots=True)
class Number:
    """A number written in the limit. ``value`` is in base units, ``text`` as written."""

    text: str
    value: float
    unit: Unit


@dataclass(frozen=True, slots=True)
class Name:
    """A number that is asked: a fact or a reading, by its id."""

    id: str
    unit: Unit


@dataclass(frozen=True, slots=True)
class Sum:
    """``left + right`` or ``left - right``."""

    sign: Literal["+", "-"]
    left: "Numeric"
    right: "Numeric"
    unit: Unit


@dataclass(frozen=True, slots=True)
class Product:
    """``left * right`` or ``left / right``."""

    sign: Literal["*", "/"]
    left: "Numeric"
    right: "Numeric"
    unit: Unit


@dataclass(frozen=True, slots=True)
class Negative:
    """``-inner``."""

    inner: "Numeric"
    unit: Unit


@dataclass(frozen=True, slots=True)
class Pick:
    """``min(...)``, ``max(...)`` or ``abs(...)``."""

    name: Literal["min", "max", "abs"]
    inner: tuple["Numeric", ...]
    unit: Unit


@dataclass(frozen=True, slots=True)
class Scaled:
    """``inner`` times a fixed factor, set where two units of one kind meet (a quotient against a percent)."""

    inner: "Numeric"
    factor: float
    unit: Unit


Numeric = Number | Name | Sum | Product | Negative | Pick | Scaled


@dataclass(frozen=True, slots=True)
class LabelName:
    """Something that is asked and is no number: a wire size, a choice, yes or no, words."""

    id: str
    form: str


@dataclass(frozen=True, slots=True)
class Label:
    """A label written in the limit. ``value`` is what a session holds for it (True for ``yes``)."""

    text: str
    value: str | bool


@dataclass(frozen=True, slots=True)
class Compare:
    """Two numbers of one kind compared."""

    sign: Literal["<", "<=", ">", ">=", "==", "!="]
    left: Numeric
    right: Numeric


@dataclass(frozen=True, slots=True)
class Same:
    """Two labels of one form compared by ``==`` or ``!=``."""

    sign: Literal["==", "!="]
    left: LabelName
    right: LabelName | Label


@dataclass(frozen=True, slots=True)
class Both:
    """``left and right``."""

    left: "Truth"
    right: "Truth"


@dataclass(frozen=True, slots=True)
class Either:
    """``left or right``."""

    left: "Truth"
    right: "Truth"


@dataclass(frozen=True, slots=True)
class Not:
    """``not inner``."""

    inner: "Truth"


Truth = Compare | Same | Both | Either | Not
Node = Numeric | LabelName | Label | Truth

NUMERIC = (Number, Name, Sum, Product, Negative, Pick, Scaled)
TRUTH = (Compare, Same, Both, Either, Not)
