"""The forms of a value in a procedure file: what is refused, in which words, its JSON Schema, what is made of it."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, TypeGuard

from engine.nearest import nearest
from engine.procedure import amounts
from engine.procedure.faults import Faults, Place
from engine.procedure.limit import LimitFault, parse
from engine.procedure.scope import Scope
from engine.source import Authority, Seen, Source

Schema = dict[str, object]

Held = Any
"""What a value of a form is: in the file, or in the model."""

COMMON = Source(Authority.PRACTICE, "common practice, no source", seen=Seen.MEMORY)
"""The source of a limit that names none."""

LARGEST = 1e15
"""A number of a file is smaller (project rule: a double holds it to the last digit); no number is not."""


@dataclass(frozen=True, slots=True, eq=False)
class Form:
    """One form of a value.

    ``fault`` says what is wrong with a value, empty if nothing is. ``reads`` is for values that hold others: it notes
    what is wrong at its own place. ``made`` makes of a value that has the form what stands in the model, ``empty``
    stands there for one that must be there and is not. ``tables`` are the tables inside, for the schema.
    """

    fault: Callable[[object], str]
    schema: Callable[[], Schema]
    made: Callable[[Held, Place, Scope], Held] = lambda value, place, scope: value
    empty: Held = ""
    reads: Callable[[Held, Place, Faults], object] | None = None
    tables: Callable[[], Iterable[Held]] = tuple

    def read(self, value: object, place: Place, faults: Faults) -> object | None:
        """Return a value that has the form, or None when it has not, which is noted."""
        if fault := self.fault(value):
            faults.add(place, fault)
            return None
        return self.reads(value, place, faults) if self.reads else value


def text(pattern: str = "", like: str = "", made: Callable[[Held, Place, Scope], Held] | None = None) -> Form:
    """Return the form of a string, not empty. ``pattern`` is what it must match, and ``like`` says so in words."""

    def fault(value: object) -> str:
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        if not value.strip():
            return "is empty; write it or take the key out"
        fits = not pattern or re.fullmatch(pattern, value)
        return "" if fits else f'is "{short(value)}", should be {like}'

    def schema() -> Schema:
        return {"type": "string", "pattern": f"^({pattern})$" if pattern else r"\S"}

    return Form(fault, schema, made or (lambda value, place, scope: value.strip()))


TEXT = text()


def _condition(value: str, place: Place, scope: Scope) -> Held:
    try:
        return parse(value, scope.units, scope.choices)
    except LimitFault as fault:
        if scope.unread.isdisjoint(re.findall(r"\w+", value)):
            column = f"column {fault.column + 1}: " if fault.column else ""
            scope.faults.add(place, f"{column}{fault.sentence}")
        return None


CONDITION = replace(text(made=_condition), empty=None)
"""A limit or a condition, said in arithmetic. What cannot be read is None in the model, and noted with its column."""


def _source(value: str, place: Place, scope: Scope) -> Source:
    if value not in scope.sources:
        hint = nearest(value, scope.sources, f"name one of {', '.join(scope.sources)}, or write it under [source]")
        scope.faults.add(place, f'no source is called "{short(value)}"; {hint}')
    return scope.sources.get(value, COMMON)


SOURCE_NAME = text(made=_source)
"""The name of a source of this file."""


def whole(low: int, high: int) -> Form:
    """Return the form of a whole number from ``low`` to ``high``."""
    wanted = str(low) if low == high else f"from {low} to {high}"

    def fault(value: object) -> str:
        if not isinstance(value, int) or isinstance(value, bool):
            return f"is {called(value)}, should be a whole number"
        return "" if low <= value <= high else f"is {short(str(value))}, should be {wanted}"

    return Form(fault, lambda: {"type": "integer", "minimum": low, "maximum": high})


NUMBER = Form(
    lambda value: "" if is_number(value) else f"is {called(value)}, should be a number in the unit of the row",
    lambda: {"type": "number"},
)

YES_NO = Form(
    lambda value: "" if isinstance(value, bool) else f"is {called(value)}, should be true or false",
    lambda: {"type": "boolean"},
)


def ends(unit: str) -> Form:
    """Return the form of the range of a number: two or four numbers in a unit, from the least to the largest.

    In the model it is (least, largest) that is taken at all, and that is taken without a question, in base units.
    """
    wanted = "should be four numbers: impossible below, unusual below, unusual above, impossible above"

    def fault(value: object) -> str:
        if not isinstance(value, list) or len(value) not in (2, 4):
            return f"{f'has {len(value)} values' if isinstance(value, list) else f'is {called(value)}'}, {wanted}"
        odd = next((item for item in value if not is_number(item)), None)
        if odd is not None:
            return f"holds {called(odd)}, {wanted}"
        around = len(value) // 4
        in_order = sorted(value) == value and value[around] < value[-1 - around]
        return "" if in_order else f"has its numbers in another order, {wanted}"

    def base(number: float, place: Place, scope: Scope) -> float:
        read = amounts.amount(f"{plain(number)} {unit}".rstrip(), unit)
        if isinstance(read, amounts.Wrong):
            scope.faults.add(place, read.sentence)
            return 0.0
        return read.number

    def made(value: list[float], place: Place, scope: Scope) -> Held:
        found = [base(number, place, scope) for number in value]
        around = len(found) // 4
        return (found[0], found[-1]), (found[around], found[-1 - around])

    lengths = [{"minItems": count, "maxItems": count} for count in (2, 4)]
    return Form(fault, lambda: {"type": "array", "items": {"type": "number"}, "oneOf": lengths}, made)


def one_of(words: Iterable[str], into: Callable[[str], Held] = str) -> Form:
    """Return the form of one of some words; ``into`` makes of it what stands in the model."""
    known = [str(word) for word in words]

    def fault(value: object) -> str:
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        hint = nearest(value, known, f"should be {either(known)}")
        return "" if value in known else f'is "{short(value)}"; {hint}'

    return Form(fault, lambda: {"enum": known}, lambda value, place, scope: into(value), empty=into(known[0]))


def named(kind: str, names: Callable[[], Iterable[str]]) -> Form:
    """Return the form of the name of something that the program has: an instrument, a rule profile."""

    def fault(value: object) -> str:
        if not isinstance(value, str):
            return f"is {called(value)}, should be a string"
        hint = nearest(value, names(), f"there are {', '.join(names())}")
        return "" if value in names() else f'no {kind} is called "{short(value)}"; {hint}'

    return Form(fault, lambda: {"enum": list(names())})


def _span(value: object) -> str:
    if not isinstance(value, str):
        return f'is {called(value)}, should be a string such as "10 min"'
    read = amounts.seconds(value)
    return read.sentence if isinstance(read, amounts.Wrong) else ""


SPAN = Form(
    _span,
    lambda: {"type": "string", "pattern": f"^{amounts.SPAN.pattern}$"},
    lambda value, place, scope: amounts.seconds(value),
    empty=0.0,
)
"""A span of time: ``"10 min"``, ``"1 day"``. In the model it is in seconds."""


def listed(item: Form, least: int = 0, most: int | None = None) -> Form:
    """Return the form of a list of ``least`` to ``most`` values of one form; a tuple in the model."""

    def fault(value: object) -> str:
        if not isinstance(value, list):
            return f"is {called(value)}, should be a list"
        if len(value) < least:
            return f"has {len(value)} values, should have {least} or more"
        too_many = most is not None and len(value) > most
        return f"has {len(value)} values, should have {most} at most" if too_many else ""

    def reads(value: list[object], place: Place, faults: Faults) -> object | None:
        found = [item.read(one, at(place, number), faults) for number, one in enumerate(value)]
        return None if None in found else found

    def made(value: list[object], place: Place, scope: Scope) -> Held:
        return tuple(item.made(one, at(place, number), scope) for number, one in enumerate(value))

    def at(place: Place, number: int) -> Place:
        return place.item(number, f"{place.words[-1]}, value {number + 1}")

    def schema() -> Schema:
        ends = {"minItems": least} if most is None else {"minItems": least, "maxItems": most}
        return {"type": "array", "items": item.schema(), **ends}

    return Form(fault, schema, made, (), reads, item.tables)


def mapped(item: Form, names: Form = TEXT, into: Callable[[Mapping[str, Held]], Held] = dict) -> Form:
    """Return the form of a table whose keys are free but for their form, and whose values have one form.

    Args:
        item: The form of its values.
        names: The form of its keys.
        into: Makes of it what stands in the model.
    """

    def fault(value: object) -> str:
        return "" if is_table(value) else f"is {called(value)}, should be a table such as {{ name = ... }}"

    def reads(value: dict[str, object], place: Place, faults: Faults) -> object | None:
        for name in value:
            if wrong := names.fault(name):
                faults.add(place.row(short(name)).name, wrong)
        found = {name: item.read(one, place.row(short(name)), faults) for name, one in value.items()}
        return None if None in found.values() else found

    def made(value: dict[str, object], place: Place, scope: Scope) -> Held:
        return into({name: item.made(one, place.row(name), scope) for name, one in value.items()})

    def schema() -> Schema:
        return {"type": "object", "additionalProperties": item.schema(), "propertyNames": names.schema()}

    return Form(fault, schema, made, into({}), reads, item.tables)


def texts() -> Form:
    """Return the form of a string, or of a list of strings."""
    several = listed(TEXT, 1)

    def fault(value: object) -> str:
        if isinstance(value, list):
            return several.fault(value)
        return TEXT.fault(value).replace("a string", "a string or a list of strings")

    def reads(value: object, place: Place, faults: Faults) -> object:
        return several.read(value, place, faults) if isinstance(value, list) else value

    return Form(fault, lambda: {"oneOf": [TEXT.schema(), several.schema()]}, reads=reads)


def called(value: object) -> str:
    """Return the type of a value in the words of TOML.

    Example:
        >>> called(True), called([]), called(1.5)
        ('true or false', 'a list', 'a number')
    """
    names = {bool: "true or false", str: "a string", int: "a whole number", float: "a number", list: "a list"}
    return "a table" if isinstance(value, dict) else names.get(type(value), "a date or a time")


def called_item(name: str, number: int, raw: object) -> str:
    """Return what people are told that a table of a list is: ``step "strip"``, or its number from 1."""
    identity = raw.get("id") if is_table(raw) else None
    return f'{name} "{short(identity)}"' if isinstance(identity, str) else f"{name} {number + 1}"


def is_table(value: object) -> TypeGuard[dict[str, Any]]:
    """Return whether a value is a table."""
    return isinstance(value, dict)


def is_number(value: object) -> TypeGuard[float]:
    """Return whether a value is a number that an amount may be."""
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < LARGEST


def plain(number: float) -> str:
    """Return a number in digits, without an exponent."""
    return f"{Decimal(str(number)):f}"


def either(words: Iterable[str]) -> str:
    """Return words as a choice: ``"a", "b" or "c"``."""
    *others, last = [f'"{word}"' for word in words]
    return f"{', '.join(others)} or {last}" if others else last


def short(text: str) -> str:
    """Return a text that fits in a sentence, without signs that a terminal acts on."""
    cut = text if len(text) <= 40 else text[:37] + "..."
    return cut if cut.isprintable() else "".join(sign if sign.isprintable() else "?" for sign in cut)
