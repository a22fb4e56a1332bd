"""The forms that a value of a procedure file may have: what is refused and in which words, and their JSON Schema."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TypeGuard

from engine.procedure import amounts
from engine.quantity.units import UNITS
from engine.quantity.wanted import LABEL_UNITS

Schema = dict[str, object]


@dataclass(frozen=True, slots=True)
class Text:
    """A string, not empty. ``pattern`` is what it must match, and ``like`` says so in words."""

    pattern: str = ""
    like: str = ""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        if not value.strip():
            return "is empty; write it or take the key out"
        if self.pattern and not re.fullmatch(self.pattern, value):
            return f'is "{short(value)}", should be {self.like}'
        return ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "string", "pattern": f"^({self.pattern})$" if self.pattern else r"\S"}


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number from ``low`` to ``high``."""

    low: int
    high: int

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, int) or isinstance(value, bool):
            return f"is {called(value)}, should be a whole number"
        inside = self.low <= value <= self.high
        return "" if inside else f"is {short(str(value))}, should be {self._range()}"

    def _range(self) -> str:
        return str(self.low) if self.low == self.high else f"from {self.low} to {self.high}"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class YesNo:
    """``true`` or ``false``."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        return "" if isinstance(value, bool) else f"is {called(value)}, should be true or false"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class OneOf:
    """One of some words."""

    words: tuple[str, ...]

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        if value in self.words:
            return ""
        near = get_close_matches(value, self.words, 1)
        hint = f'did you mean "{near[0]}"?' if near else f"should be {either(self.words)}"
        return f'is "{short(value)}"; {hint}'

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"enum": [str(word) for word in self.words]}


@dataclass(frozen=True, slots=True)
class Named:
    """The name of something that the program has: a check, an instrument, a rule profile."""

    kind: str
    names: Callable[[], tuple[str, ...]]

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        names = self.names()
        if value in names:
            return ""
        near = get_close_matches(value, names, 1)
        hint = f'did you mean "{near[0]}"?' if near else f"there are {', '.join(names)}"
        return f'no {self.kind} is called "{short(value)}"; {hint}'

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"enum": list(self.names())}


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of an entry, or the form of one that is no number."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f'is {called(value)}, should be a string such as "V"'
        return amounts.unit_fault(value)

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"enum": [*UNITS, *LABEL_UNITS]}


@dataclass(frozen=True, slots=True)
class Pair:
    """Two amounts, least and largest, each a string with its unit: ``["5 A", "120 A"]``."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        example = 'should be two strings, least and largest, such as ["5 A", "120 A"]'
        if not isinstance(value, list):
            return f"is {called(value)}, {example}"
        odd = next((item for item in value if not isinstance(item, str)), None)
        if odd is not None:
            return f"holds {called(odd)}, {example}"
        return "" if len(value) == 2 else f"has {len(value)} values, {example}"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "array", "items": {"type": "string", "pattern": r"\S"}, "minItems": 2, "maxItems": 2}


@dataclass(frozen=True, slots=True)
class Span:
    """A span of time: ``"10 min"``, ``"1 day"``."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f'is {called(value)}, should be a string such as "10 min"'
        read = amounts.seconds(value)
        return read.sentence if isinstance(read, amounts.Wrong) else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "string", "pattern": f"^{amounts.SPAN.pattern}$"}


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of values of one form."""

    item: "Form"
    least: int = 0
    most: int | None = None

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, list):
            return f"is {called(value)}, should be a list"
        if len(value) < self.least:
            return f"has {len(value)} values, should have {self.least} or more"
        if self.most is not None and len(value) > self.most:
            return f"has {len(value)} values, should have {self.most} at most"
        wrong = [(place, fault) for place, item in enumerate(value, 1) if (fault := self.item.fault(item))]
        return f"value {wrong[0][0]} {wrong[0][1]}" if wrong else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        most = {} if self.most is None else {"maxItems": self.most}
        return {"type": "array", "items": self.item.schema(), "minItems": self.least, **most}


@dataclass(frozen=True, slots=True)
class Mapped:
    """A table whose keys are free and whose values have one form."""

    item: "Form"

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, dict):
            return f"is {called(value)}, should be a table such as {{ key = ... }}"
        wrong = [(name, fault) for name, item in value.items() if (fault := self.item.fault(item))]
        return f'"{short(wrong[0][0])}" {wrong[0][1]}' if wrong else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "object", "additionalProperties": self.item.schema()}


@dataclass(frozen=True, slots=True)
class TextOrTexts:
    """A string, or a list of strings."""

    least: int = 1

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if isinstance(value, list):
            return Listed(Text(), self.least).fault(value)
        return Text().fault(value).replace("a string", "a string or a list of strings")

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"oneOf": [Text().schema(), Listed(Text(), self.least).schema()]}


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table: the form of its value, whether it must be there, and what it is for."""

    form: "Form | Inner | Inners"
    says: str
    required: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table of a procedure file: what it is called, its keys in the order to write them, and what it is.

    ``rules`` say in JSON Schema what binds its keys to each other; the loader says the same in words of its own.
    """

    name: str
    keys: Mapping[str, Key] = field(hash=False)
    says: str = ""
    rules: tuple[Schema, ...] = field(default=(), hash=False)


@dataclass(frozen=True, slots=True)
class Inner:
    """A table of known keys."""

    table: Table


@dataclass(frozen=True, slots=True)
class Inners:
    """A list of tables of known keys, ``[[...]]``."""

    table: Table


Form = Text | Whole | YesNo | OneOf | Named | Unit | Pair | Span | Listed | Mapped | TextOrTexts


def called(value: object) -> str:
    """Return the type of a value in the words of TOML.

    Example:
        >>> called(True), called([]), called(1.5)
        ('true or false', 'a list', 'a number')
    """
    names = {bool: "true or false", str: "a string", int: "a whole number", float: "a number", list: "a list"}
    return "a table" if isinstance(value, dict) else names.get(type(value), "a date or a time")


def is_table(value: object) -> TypeGuard[dict[str, object]]:
    """Return whether a value is a table."""
    return isinstance(value, dict)


def either(words: tuple[str, ...]) -> str:
    """Return words as a choice: ``"a", "b" or "c"``."""
    quoted = [f'"{word}"' if word else '"" (a count)' for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def short(text: str) -> str:
    """Return a text that fits in a sentence, without signs that a terminal acts on."""
    cut = text if len(text) <= 40 else text[:37] + "..."
    return cut if cut.isprintable() else "".join(sign if sign.isprintable() else "?" for sign in cut)
