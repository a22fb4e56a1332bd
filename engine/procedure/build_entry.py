"""Builds the entries of a procedure, its facts and readings, and checks what belongs to their units."""

from dataclasses import dataclass, field

from engine.procedure import amounts
from engine.procedure.faults import Faults
from engine.procedure.fields import Fields
from engine.procedure.limit_typed import unknown_name
from engine.procedure.model import Entry, Known
from engine.procedure.offer import DAY, gaps
from engine.procedure.scope import Scope, condition
from engine.procedure.tables import KNOWN_WORDS
from engine.quantity.pin_rows import NOT_NAMES, PIN_MAP
from engine.quantity.wanted import LABEL_UNITS

_KNOWN = dict(zip(KNOWN_WORDS, Known, strict=True))
_ONLY_NUMBERS = ("hard", "likely", "signed", "over_range")


@dataclass(slots=True)
class Declared:
    """The entries as their tables declare them, before any condition can be read."""

    fields: list[Fields] = field(default_factory=list)

    def scope(self) -> Scope:
        """Return the names that limits, checks and conditions may use."""
        units = {entry.text("id"): entry.text("unit") for entry in self.fields if entry.has("id") and entry.has("unit")}
        choices = {entry.text("id"): entry.texts("choices") for entry in self.fields if entry.has("choices")}
        return Scope(units, choices)


def build_entry(given: Fields, scope: Scope, faults: Faults, *, default: Known) -> Entry:
    """Return one entry.

    Args:
        given: Its table.
        scope: The names that its condition may use.
        faults: Takes what is wrong.
        default: How it is known if the table does not say.
    """
    unit = given.text("unit")
    _check_unit(given, unit, faults)
    _check_positions(given, unit, faults)
    _check_offers(given, unit, scope, faults)
    hard, likely = _span(given, "hard", unit, faults), _span(given, "likely", unit, faults)
    if hard and likely and not (hard[0] <= likely[0] and likely[1] <= hard[1]):
        faults.add(given.place.key("likely"), "lies outside hard; the likely range is a part of the hard one")
    return Entry(
        id=given.text("id"),
        ask=given.text("ask"),
        unit=unit,
        why=given.text("why"),
        hard=hard,
        likely=likely,
        instrument=given.text("instrument"),
        known=_KNOWN.get(given.text("known"), default),
        signed=given.yes("signed"),
        over_range=given.yes("over_range"),
        choices=given.texts("choices"),
        skip=given.texts("skip"),
        repeats=given.whole("repeats", 1),
        group=given.text("group"),
        positions=given.texts("positions"),
        far=given.texts("far"),
        offers=given.texts("offers"),
        when=condition(given, "when", scope, faults),
    )


def _check_unit(given: Fields, unit: str, faults: Faults) -> None:
    if not given.has("unit"):
        return
    if unit in LABEL_UNITS:
        for name in [name for name in _ONLY_NUMBERS if given.has(name)]:
            faults.add(given.place.key(name), f"belongs to numbers; {given.text('id')} is {unit}")
    elif "hard" not in given.values and not faults.stands_at(given.place.key("hard")):
        example = f"5 {unit}".rstrip()
        faults.add(
            given.place, f'"hard" is missing: least and largest value that is taken, such as ["{example}", "..."]'
        )
    if unit == "choice" and not given.has("choices") and not faults.stands_at(given.place.key("choices")):
        faults.add(given.place, '"choices" is missing: the answers to choose from')
    if unit != "choice" and given.has("choices"):
        faults.add(given.place.key("choices"), f'belongs to unit = "choice"; {given.text("id")} is in "{unit}"')


def _check_positions(given: Fields, unit: str, faults: Faults) -> None:
    if not given.has("unit"):
        return
    place = given.place.key("positions")
    if unit == PIN_MAP and not given.has("positions") and not faults.stands_at(place):
        faults.add(given.place, '"positions" is missing: the positions of this end, each a row of the map')
    for key in [key for key in ("positions", "far") if given.has(key)]:
        if unit != PIN_MAP:
            faults.add(given.place.key(key), f'belongs to unit = "{PIN_MAP}"; {given.text("id")} is in "{unit}"')
        elif fault := _names_fault(given.texts(key)):
            faults.add(given.place.key(key), fault)


def _check_offers(given: Fields, unit: str, scope: Scope, faults: Faults) -> None:
    if given.has("offers") and given.has("unit") and unit != "words":
        faults.add(given.place.key("offers"), f'belongs to unit = "words"; {given.text("id")} is in "{unit}"')
    for name in gaps(given.texts("offers")):
        if name != DAY and name not in scope.units:
            faults.add(given.place.key("offers"), unknown_name(name, {**scope.units, DAY: ""}))


def _names_fault(names: tuple[str, ...]) -> str:
    small = [name.lower() for name in names]
    for name in names:
        if name.lower() in NOT_NAMES:
            return f'holds "{name}", which is typed for a position that reaches nothing; call it otherwise'
        if small.count(name.lower()) > 1:
            return f'holds "{name}" twice; each position has a name of its own'
    return ""


def _span(given: Fields, name: str, unit: str, faults: Faults) -> tuple[float, float] | None:
    if not given.has(name) or not given.has("unit") or unit in LABEL_UNITS:
        return None
    ends = [amounts.amount(text, unit) for text in given.texts(name)]
    wrong = [end.sentence for end in ends if isinstance(end, amounts.Wrong)]
    for sentence in wrong:
        faults.add(given.place.key(name), sentence)
    low, high = (end.number if isinstance(end, amounts.Plain) else 0.0 for end in ends)
    if not wrong and not low < high:
        faults.add(given.place.key(name), "has its larger value first, or both the same; write the least one first")
    return None if wrong or not low < high else (low, high)
