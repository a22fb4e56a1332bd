"""Arithmetic and comparison over named values, as a small tree: parsed once, unit-checked, evaluated on floats."""

from collections.abc import Mapping, Sequence
from functools import cached_property, reduce
from typing import Literal, cast

from engine.finding import Value
from engine.procedure.limit_parse import parse_numeric, parse_truth
from engine.procedure.limit_range import Span, outcome
from engine.procedure.limit_run import ABSENT, Numbers, Truths, number_of, truth_of
from engine.procedure.limit_tokens import LimitFault
from engine.procedure.limit_tree import (
    NUMERIC,
    Both,
    Compare,
    Either,
    Label,
    LabelName,
    Name,
    Node,
    Numeric,
    Same,
    Truth,
)
from engine.procedure.limit_typed import Asked
from engine.procedure.limit_words import Speaker

__all__ = ["Expression", "LimitFault", "chosen", "parse", "parse_number"]


class Expression:
    """A parsed limit, condition or sum. Made by ``parse`` or ``parse_number``; equal if text and names are.

    ``text`` is as written, ``names`` the entries it uses. Values are floats in base units, labels, bools for yes/no.
    """

    __slots__ = ("__dict__", "_units", "names", "text", "tree")

    def __init__(self, text: str, tree: Truth | Numeric, units: Mapping[str, str]) -> None:
        self.text = text
        self.tree = tree
        self.names = frozenset(_names(tree))
        self._units = {name: units[name] for name in self.names}

    def holds(self, values: Mapping[str, Value]) -> bool | None:
        """Return whether it holds, or None if a value that it needs is not there.

        Of ``a or b`` one that holds is enough, of ``a and b`` one that does not, whether or not the other is known.

        Example:
            >>> limit = parse("gap <= 3 mm", {"gap": "mm"})
            >>> limit.holds({"gap": 0.002}), limit.holds({"gap": 0.004}), limit.holds({})
            (True, False, None)
        """
        try:
            return self._truth(values)
        except ABSENT:
            return None

    def number(self, values: Mapping[str, Value]) -> float | None:
        """Return the value of a sum [base unit], or None if a value that it needs is not there.

        Of a comparison it is the side that the reading is held against: 0.011 for ``strip >= depth - 1 mm``.

        Example:
            >>> parse("strip >= depth - 1 mm", {"strip": "mm", "depth": "mm"}).number({"depth": 0.012})
            0.011
        """
        try:
            return cast(float, self._number(values))
        except ABSENT:
            return None

    def says(self, values: Mapping[str, Value]) -> str:
        """Return it as a sentence for people, with the values that are there.

        Example:
            >>> limit = parse("strip >= barrel_depth - 1 mm", {"strip": "mm", "barrel_depth": "mm"})
            >>> limit.says({"barrel_depth": 0.012})
            'at least 11.0 mm: barrel depth 12.0 mm less 1 mm'
        """
        speaker = Speaker(self._units)
        if isinstance(self.tree, NUMERIC):
            return speaker.number(self.tree, values)
        return speaker.sentence(self.tree, values)

    def over(self, ranges: Mapping[str, Span], labels: Mapping[str, Value] | None = None) -> bool | None:
        """Return True if every value of the ranges meets it, False if none can, None if some may or it is not known.

        Args:
            ranges: (least, largest) of each number by id [base units].
            labels: The answers that are no numbers, by id.

        Example:
            >>> parse("gap <= 3 mm", {"gap": "mm"}).over({"gap": (0.0, 0.002)})
            True
        """
        return outcome(cast(Truth, self.tree), ranges, labels)

    @cached_property
    def _truth(self) -> Truths:
        return truth_of(cast(Truth, self.tree))

    @cached_property
    def _number(self) -> Numbers:
        side = self.tree.right if isinstance(self.tree, Compare) else self.tree
        return number_of(cast(Numeric, side))

    def __reduce__(self) -> tuple[type["Expression"], tuple[str, Truth | Numeric, dict[str, str]]]:
        return Expression, (self.text, self.tree, self._units)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Expression) and (self.text, self._units) == (other.text, other._units)

    def __hash__(self) -> int:
        return hash(self.text)

    def __repr__(self) -> str:
        return f"Expression({self.text!r})"


def parse(text: str, units: Mapping[str, str], choices: Mapping[str, tuple[str, ...]] | None = None) -> Expression:
    """Return a limit or condition over the names in ``units``.

    Args:
        text: The limit as written, such as ``strip_length >= barrel_depth - 1 mm``.
        units: The unit of each fact and reading as its entry says (``mm``, ``wire``, ``yes/no``).
        choices: The choices of each entry that has them.

    Raises:
        LimitFault: one sentence with the column, if it cannot be read, names what nobody asks, or mixes units.

    Example:
        >>> parse("1 mm <= gap <= 3 mm", {"gap": "mm"}).holds({"gap": 0.002})
        True
    """
    return Expression(text, parse_truth(text, Asked(units, choices or {})), units)


def parse_number(text: str, units: Mapping[str, str]) -> Expression:
    """Return a sum over the names in ``units`` that gives a number.

    Raises:
        LimitFault: one sentence with the column, if it cannot be read or is no number.

    Example:
        >>> parse_number("before - after", {"before": "V", "after": "V"}).number({"before": 24.9, "after": 23.9})
        1.0
    """
    return Expression(text, parse_numeric(text, Asked(units)), units)


def chosen(name: str, choices: Sequence[str], bad: Sequence[str]) -> Expression:
    """Return the limit that the answer is none of the bad ones, said by the fewer words.

    Args:
        name: The id of the choice.
        choices: All its answers.
        bad: Those that do not meet it.

    Example:
        >>> chosen("smell", ["none", "some"], ["some"]).text
        'smell == "none"'
    """
    good = [word for word in choices if word not in bad]
    by_good = 0 < len(good) <= len(bad)
    sign, words, joint, join = ("==", good, " or ", Either) if by_good else ("!=", bad, " and ", Both)
    nodes: list[Truth] = [Same(cast(Literal["==", "!="], sign), LabelName(name, "choice"), Label(w, w)) for w in words]
    text = joint.join(f'{name} {sign} "{word}"' for word in words)
    return Expression(text, reduce(join, nodes), {name: "choice"})


def _names(node: Node) -> list[str]:
    if isinstance(node, Name | LabelName):
        return [node.id]
    parts = [getattr(node, field) for field in ("left", "right", "inner") if hasattr(node, field)]
    flat = [piece for part in parts for piece in (part if isinstance(part, tuple) else (part,))]
    return [name for piece in flat for name in _names(piece)]
