"""Reads what fills an input: the id of an entry, or an amount or a label written in the file."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.finding import Value
from engine.nearest import nearest
from engine.procedure import amounts
from engine.procedure.faults import Place
from engine.procedure.model_circuit import PLAN_FIGURES, FromPlan, Literal, Operand, Reference, Since
from engine.procedure.scope import Scope
from engine.quantity.pin_rows import PIN_MAP
from engine.quantity.units import kind_words
from engine.quantity.wanted import LABEL_UNITS

SINCE = " since "
"""What parts the two readings of a time that the log's clock gives."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What an input takes: the unit of its numbers, or its form, and its choices. ``many`` takes a list."""

    unit: str
    choices: tuple[str, ...] = ()
    many: bool = False


def operand(given: str | list[str], wanted: Wanted, scope: Scope, place: Place) -> Operand | None:
    """Return the operand that a text or a list of texts says, or None if it has a fault.

    Args:
        given: What stands in the file: names of entries, or literals.
        wanted: What the input takes.
        scope: The entries there are.
        place: Where it stands.
    """
    texts = given if isinstance(given, list) else [given]
    if not scope.unread.isdisjoint(texts):
        return None
    if isinstance(given, list) and not wanted.many:
        scope.faults.add(place, "is a list; this input takes one value")
        return None
    if len(texts) == 1 and texts[0].startswith("plan."):
        return _from_plan(texts[0], wanted, scope, place)
    if len(texts) == 1 and SINCE in texts[0]:
        return _since(texts[0], wanted, scope, place)
    named = [text for text in texts if text in scope.units]
    if not named:
        return _literal(texts, wanted, scope, place)
    if len(named) < len(texts):
        odd = next(text for text in texts if text not in scope.units)
        scope.faults.add(place, _unknown(odd, scope, "the others of this list are entries"))
        return None
    for name in named:
        if fault := _cannot_fill(name, wanted, scope):
            scope.faults.add(place, fault)
    return Reference(tuple(texts), many=wanted.many)


def _from_plan(text: str, wanted: Wanted, scope: Scope, place: Place) -> FromPlan | None:
    unit = PLAN_FIGURES.get(text)
    if unit is None:
        scope.faults.add(place, f'the plan has no figure "{text}"; it has {", ".join(PLAN_FIGURES)}')
    elif wanted.unit in LABEL_UNITS or amounts.kind(unit) is not amounts.kind(wanted.unit):
        scope.faults.add(place, f"{text} is in {unit}; {_form(wanted.unit)} is asked here")
    else:
        return FromPlan(text)
    return None


def _since(text: str, wanted: Wanted, scope: Scope, place: Place) -> Since | None:
    ends = text.split(SINCE)
    if unknown := next((name for name in ends if name not in scope.units), None):
        scope.faults.add(place, _unknown(unknown, scope, f'"t_after{SINCE}i_before" names two readings'))
    elif len(ends) != 2 or wanted.unit in LABEL_UNITS or amounts.kind("s") is not amounts.kind(wanted.unit):
        scope.faults.add(place, f"is a time between two readings; {_form(wanted.unit)} is asked here")
    else:
        return Since(*ends)
    return None


def _cannot_fill(name: str, wanted: Wanted, scope: Scope) -> str:
    unit = scope.units[name]
    if wanted.unit in LABEL_UNITS or unit in LABEL_UNITS:
        return _cannot_fill_label(name, unit, wanted, scope)
    mine, theirs = amounts.kind(unit), amounts.kind(wanted.unit)
    if mine is theirs:
        return ""
    return f"{name} is {kind_words(mine)} ({unit or 'no unit'}); {kind_words(theirs)} is asked here"


def _cannot_fill_label(name: str, unit: str, wanted: Wanted, scope: Scope) -> str:
    text_forms = ("choice", "words")
    if unit == wanted.unit == "choice" and wanted.choices:
        odd = [choice for choice in scope.choices.get(name, ()) if choice not in wanted.choices]
        return f'{name} may be "{odd[0]}"; this input takes {", ".join(wanted.choices)}' if odd else ""
    if unit == wanted.unit or (unit in text_forms and wanted.unit == "words"):
        return ""
    return f"{name} is {_form(unit)}; {_form(wanted.unit)} is asked here"


def _form(unit: str) -> str:
    forms = {
        "wire": "a wire size",
        "yes/no": "yes or no",
        "choice": "a choice",
        "words": "words",
        PIN_MAP: "a pin map",
    }
    return forms.get(unit) or f"{kind_words(amounts.kind(unit))} ({unit or 'no unit'})"


def _literal(texts: Sequence[str], wanted: Wanted, scope: Scope, place: Place) -> Literal | None:
    values: list[Value] = []
    for text in texts:
        value = _value(text, wanted)
        if isinstance(value, amounts.Wrong):
            scope.faults.add(place, _unknown(text, scope, value.sentence) if _is_name(text) else value.sentence)
            return None
        values.append(value)
    return Literal("; ".join(texts), tuple(values) if wanted.many else values[0])


def _value(text: str, wanted: Wanted) -> Value | amounts.Wrong:
    if wanted.unit == "choice" and wanted.choices and text not in wanted.choices:
        return amounts.Wrong(f'"{text}" is not a choice; this input takes {", ".join(wanted.choices)}')
    if wanted.unit in LABEL_UNITS:
        return amounts.label(text, wanted.unit)
    read = amounts.amount(text, wanted.unit)
    return read if isinstance(read, amounts.Wrong) else read.number


def _is_name(text: str) -> bool:
    return text.replace("_", "a").isalnum() and text[0].isalpha()


def _unknown(text: str, scope: Scope, otherwise: str) -> str:
    return f'no fact or reading is called "{text}"; {nearest(text, scope.units, otherwise)}'
