"""The forms of a value in a procedure file: what is refused, in which words, its JSON Schema, what is made of it."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from typing import Any, ClassVar, TypeGuard

from engine.procedure import amounts
from engine.procedure.faults import Faults, Place
from engine.procedure.limit import Expression, LimitFault, parse
from engine.procedure.scope import Scope
from engine.source import Authority, Seen, Source

Schema = dict[str, object]

Held = Any
"""What a value of a form is: in the file, or in the model."""

COMMON = Source(Authority.PRACTICE, "common practice, no source", seen=Seen.MEMORY)
"""The source of a limit that names none."""


class Form:
    """One form. ``empty`` stands in the model for a value that must be there and is not: its fault has been noted."""

    __slots__ = ()
    empty: ClassVar[Held] = ""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        raise NotImplementedError

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        raise NotImplementedError

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return a value that has the form, or None when it has not, which is noted."""
        if fault := self.fault(value):
            faults.add(place, fault)
            return None
        return value

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return what stands in the model for a value that has the form."""
        return value


@dataclass(frozen=True, slots=True)
class Text(Form):
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

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return the text without the blanks around it."""
        return value.strip()


@dataclass(frozen=True, slots=True)
class Condition(Text):
    """A limit or a condition, said in arithmetic."""

    empty: ClassVar[Held] = None

    def made(self, value: Held, place: Place, scope: Scope) -> Expression | None:
        """Return it parsed, or None when it cannot be, which is noted with its column."""
        try:
            return parse(value, scope.units, scope.choices)
        except LimitFault as fault:
            if scope.unread.isdisjoint(re.findall(r"\w+", value)):
                column = f"column {fault.column + 1}: " if fault.column else ""
                scope.faults.add(place, f"{column}{fault.sentence}")
            return None


@dataclass(frozen=True, slots=True)
class SourceName(Text):
    """The name of a source of this file."""

    empty: ClassVar[Held] = COMMON

    def made(self, value: Held, place: Place, scope: Scope) -> Source:
        """Return the source of that name."""
        if value not in scope.sources:
            hint = nearest(value, scope.sources, f"name one of {', '.join(scope.sources)}, or write it under [source]")
            scope.faults.add(place, f'no source is called "{short(value)}"; {hint}')
        found: Source = scope.sources.get(value, self.empty)
        return found


@dataclass(frozen=True, slots=True)
class Whole(Form):
    """A whole number from ``low`` to ``high``."""

    low: int
    high: int

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, int) or isinstance(value, bool):
            return f"is {called(value)}, should be a whole number"
        wanted = str(self.low) if self.low == self.high else f"from {self.low} to {self.high}"
        return "" if self.low <= value <= self.high else f"is {short(str(value))}, should be {wanted}"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Number(Form):
    """A number in the unit of its row."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        return "" if is_number(value) else f"is {called(value)}, should be a number in the unit of the row"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "number"}


@dataclass(frozen=True, slots=True)
class Ends(Form):
    """The range of a number: two or four numbers in ``unit``, from the least to the largest."""

    unit: str

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        wanted = "should be four numbers: impossible below, unusual below, unusual above, impossible above"
        if not isinstance(value, list) or len(value) not in (2, 4):
            return f"{f'has {len(value)} values' if isinstance(value, list) else f'is {called(value)}'}, {wanted}"
        odd = next((item for item in value if not is_number(item)), None)
        if odd is not None:
            return f"holds {called(odd)}, {wanted}"
        around = len(value) // 4
        in_order = sorted(value) == value and value[around] < value[-1 - around]
        return "" if in_order else f"has its numbers in another order, {wanted}"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "array", "items": {"type": "number"}, "oneOf": [_of_length(2), _of_length(4)]}

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return the ends in base units: (least, largest) that is taken at all, and without a question."""
        ends = [self.base(number, place, scope) for number in value]
        around = len(ends) // 4
        return (ends[0], ends[-1]), (ends[around], ends[-1 - around])

    def base(self, number: float, place: Place, scope: Scope) -> float:
        """Return a number of the unit in base units."""
        read = amounts.amount(f"{plain(number)} {self.unit}".rstrip(), self.unit)
        if isinstance(read, amounts.Wrong):
            scope.faults.add(place, read.sentence)
            return 0.0
        return read.number


@dataclass(frozen=True, slots=True)
class YesNo(Form):
    """``true`` or ``false``."""

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        return "" if isinstance(value, bool) else f"is {called(value)}, should be true or false"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class OneOf(Form):
    """One of some words; ``into`` makes of it what stands in the model."""

    words: tuple[str, ...]
    into: Callable[[str], Held] = str

    @property
    def empty(self) -> Held:
        """The first of them."""
        return self.into(self.words[0])

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        hint = nearest(value, self.words, f"should be {either(self.words)}")
        return "" if value in self.words else f'is "{short(value)}"; {hint}'

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"enum": [str(word) for word in self.words]}

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return what stands for the word."""
        return self.into(value)


@dataclass(frozen=True, slots=True)
class Named(Form):
    """The name of something that the program has: an instrument, a rule profile."""

    kind: str
    names: Callable[[], tuple[str, ...]]

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        names = self.names()
        hint = nearest(value, names, f"there are {', '.join(names)}")
        return "" if value in names else f'no {self.kind} is called "{short(value)}"; {hint}'

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"enum": list(self.names())}


@dataclass(frozen=True, slots=True)
class Span(Form):
    """A span of time: ``"10 min"``, ``"1 day"``. In the model it is in seconds."""

    empty: ClassVar[Held] = 0.0

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        if not isinstance(value, str):
            return f'is {called(value)}, should be a string such as "10 min"'
        read = amounts.seconds(value)
        return read.sentence if isinstance(read, amounts.Wrong) else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "string", "pattern": f"^{amounts.SPAN.pattern}$"}

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return it in seconds."""
        return amounts.seconds(value)


@dataclass(frozen=True, slots=True)
class Listed(Form):
    """A list of values of one form."""

    item: Form
    least: int = 0
    most: int | None = None
    empty: ClassVar[Held] = ()

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return the values that have the form, or None when it is no list of so many."""
        if fault := self.fault(value):
            faults.add(place, fault)
            return None
        items = value if isinstance(value, list) else []
        whole = [self.item.read(item, value_at(place, number), faults) for number, item in enumerate(items)]
        return [item for item in whole if item is not None]

    def fault(self, value: object) -> str:
        """Return what is wrong with the list itself, empty if nothing is."""
        if not isinstance(value, list):
            return f"is {called(value)}, should be a list"
        if len(value) < self.least:
            return f"has {len(value)} values, should have {self.least} or more"
        most = len(value) if self.most is None else self.most
        return f"has {len(value)} values, should have {most} at most" if len(value) > most else ""

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        most = {} if self.most is None else {"maxItems": self.most}
        return {"type": "array", "items": self.item.schema(), "minItems": self.least, **most}

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return a tuple of what stands for each."""
        return tuple(self.item.made(item, value_at(place, number), scope) for number, item in enumerate(value))


@dataclass(frozen=True, slots=True)
class Mapped(Form):
    """A table whose keys are free but for their form, and whose values have one form; ``into`` makes of it the rest."""

    item: Form
    names: Text = Text()
    into: Callable[[Mapping[str, Held]], Held] = dict

    @property
    def empty(self) -> Held:
        """What stands for an empty table."""
        return self.into({})

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return the values that have the form, by name, or None when it is no table."""
        if not is_table(value):
            faults.add(place, self.fault(value))
            return None
        for name in value:
            if fault := self.names.fault(name):
                faults.add(place.row(short(name)).name, fault)
        whole = {name: self.item.read(item, place.row(short(name)), faults) for name, item in value.items()}
        return {name: item for name, item in whole.items() if item is not None}

    def fault(self, value: object) -> str:
        """Return that it is no table."""
        return f"is {called(value)}, should be a table such as {{ name = ... }}"

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"type": "object", "additionalProperties": self.item.schema(), "propertyNames": self.names.schema()}

    def made(self, value: Held, place: Place, scope: Scope) -> Held:
        """Return what stands for it."""
        return self.into({name: self.item.made(item, place.row(name), scope) for name, item in value.items()})


@dataclass(frozen=True, slots=True)
class Texts(Form):
    """A string, or a list of ``least`` strings or more."""

    least: int = 1

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return a value that has the form, or None when it has not, which is noted."""
        form = Listed(Text(), self.least) if isinstance(value, list) else self
        return Form.read(self, value, place, faults) if form is self else form.read(value, place, faults)

    def fault(self, value: object) -> str:
        """Return what is wrong with a value, empty if nothing is."""
        return Text().fault(value).replace("a string", "a string or a list of strings")

    def schema(self) -> Schema:
        """Return its JSON Schema."""
        return {"oneOf": [Text().schema(), Listed(Text(), self.least).schema()]}


def value_at(place: Place, number: int) -> Place:
    """Return the place of a value of a list, from 0: ``closes, value 1``."""
    return place.item(number, f"{place.words[-1]}, value {number + 1}")


def called(value: object) -> str:
    """Return the type of a value in the words of TOML.

    Example:
        >>> called(True), called([]), called(1.5)
        ('true or false', 'a list', 'a number')
    """
    names = {bool: "true or false", str: "a string", int: "a whole number", float: "a number", list: "a list"}
    return "a table" if isinstance(value, dict) else names.get(type(value), "a date or a time")


def is_table(value: object) -> TypeGuard[dict[str, Any]]:
    """Return whether a value is a table."""
    return isinstance(value, dict)


LARGEST = 1e15
"""A number of a file is smaller (project rule: a double holds it to the last digit); no number is not."""


def is_number(value: object) -> TypeGuard[float]:
    """Return whether a value is a number that an amount may be."""
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < LARGEST


def plain(number: float) -> str:
    """Return a number in digits, without an exponent."""
    return f"{Decimal(str(number)):f}"


def nearest(word: str, known: Iterable[str], otherwise: str) -> str:
    """Return the hint for a word that is not known: the nearest that is, or else ``otherwise``.

    Example:
        >>> nearest("reed", ["read", "fact"], "")
        'did you mean "read"?'
    """
    near = get_close_matches(word, list(known), 1)
    return f'did you mean "{near[0]}"?' if near else otherwise


def either(words: tuple[str, ...]) -> str:
    """Return words as a choice: ``"a", "b" or "c"``."""
    quoted = [f'"{word}"' for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def short(text: str) -> str:
    """Return a text that fits in a sentence, without signs that a terminal acts on."""
    cut = text if len(text) <= 40 else text[:37] + "..."
    return cut if cut.isprintable() else "".join(sign if sign.isprintable() else "?" for sign in cut)


def _of_length(count: int) -> Schema:
    return {"minItems": count, "maxItems": count}
