"""A row that asks one thing: which keys belong together, and the entry and the limits that it becomes."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from engine.finding import Verdict
from engine.nearest import nearest
from engine.procedure.amounts import unit_fault
from engine.procedure.faults import Faults, Place
from engine.procedure.forms import (
    COMMON,
    CONDITION,
    NUMBER,
    SOURCE_NAME,
    TEXT,
    Schema,
    ends,
    one_of,
    plain,
    short,
    texts,
)
from engine.procedure.limit import Expression, chosen, parse
from engine.procedure.limit_typed import unknown_name
from engine.procedure.model import KNOWN_WORDS, Entry, Known, StepLimit
from engine.procedure.offer import DAY, gaps
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields, Key, table
from engine.quantity.pin_rows import NOT_NAMES, PIN_MAP
from engine.quantity.units import UNITS, kind_of, kind_words
from engine.quantity.wanted import WIRE

UNIT_OF = {unit or "count": unit for unit in UNITS}
"""The unit that each key of a number's range stands for."""

USUAL = {
    "V": "dmm_v",
    "mV": "dmm_mv",
    "ohm": "dmm_r",
    "A": "clamp",
    "mA": "dmm_ma",
    "N": "scale",
    "N m": "torq",
    "degC": "ir",
    "m": "tape",
}
"""The instrument that a reading of each unit is measured with if its row says nothing (project rule)."""

BANDS = {"stop": Verdict.FAIL, "bad": Verdict.FAIL, "doubtful": Verdict.UNDECIDED, "bearable": Verdict.MARGINAL}
"""The keys of a row for answers that are not good, from the worst, and the verdict on them."""

_NUMBER, _CHOICE, _YES_NO, _WORDS = "a number", "a choice", "yes/no", "words"
_LABELS = (WIRE, _WORDS, _YES_NO, PIN_MAP)
_KINDS = ("of", "one_of", *UNIT_OF)
_JUDGED = (_CHOICE, _YES_NO, _NUMBER)
_FLAGS = ("bearable", "doubtful", "stop")
_LIMITS = ("good", "bad", *_FLAGS, "least", "most")

_BELONGS = {
    **dict.fromkeys(("signed", "over_range", "least", "most"), (_NUMBER,)),
    **dict.fromkeys(("positions", "far"), (PIN_MAP,)),
    **dict.fromkeys((*_FLAGS, "hands", "says", "from"), _JUDGED),
    "offers": (_WORDS,),
    "good": (_CHOICE, _YES_NO),
    "bad": (_CHOICE,),
}
"""What a row must ask to have a key, of the keys that not every row may have."""

_CHOICES = texts()
_TRUE_OR_CHOICES = replace(
    _CHOICES,
    fault=lambda value: "" if value is True else _CHOICES.fault(value),
    schema=lambda: {"oneOf": [{"const": True}, _CHOICES.schema()]},
)


def _range_says(unit: str) -> str:
    return f"{kind_words(kind_of(unit))}: impossible below, unusual below, unusual above, impossible above"


_MORE = {
    "of": Key(one_of(_LABELS), "what is asked, if it is no number and no choice"),
    **{name: Key(ends(unit), _range_says(unit)) for name, unit in UNIT_OF.items()},
    "good": Key(_CHOICES, 'the good choices, or "yes" or "no"; every other answer that is not named fails'),
    "bad": Key(_CHOICES, "the choices that fail; without good, every other that is not named is good"),
    "bearable": Key(_TRUE_OR_CHOICES, "choices that are marginal; true: what is not good is marginal"),
    "doubtful": Key(_TRUE_OR_CHOICES, "choices that are undecided; true: what is not good is undecided"),
    "stop": Key(_TRUE_OR_CHOICES, "choices that fail, and stop all work; true: what is not good does"),
    "hands": Key(TEXT, "what the hands do now, where it says stop"),
    "least": Key(NUMBER, "the least good value, in the unit of the row"),
    "most": Key(NUMBER, "the largest good value, in the unit of the row"),
    "says": Key(TEXT, "the reason of its limit, as the person reads it"),
    "from": Key(SOURCE_NAME, "where its limit comes from, by a name of [source]; common practice if left out"),
}


def _binds(row: Fields, faults: Faults) -> None:
    """Note what is wrong between the keys of a row."""
    asked = asks(row)
    if not asked:
        given = [name for name in _KINDS if row.has(name)]
        wanted = 'needs of, one_of, a unit with its range such as mm = [0, 5, 40, 60], or good = "yes"'
        if len(given) > 1 or not row.wrong:
            faults.add(row.place, f"has {' and '.join(given)}; it asks one thing" if given else wanted)
        return
    odd = [name for name in row.values if asked not in _BELONGS.get(name, (asked,))]
    for name in odd:
        faults.add(row.at(name), f"belongs to {' or '.join(_BELONGS[name])}; this asks {asked}")
    if asked == PIN_MAP and not row.has("positions"):
        faults.add(row.place, '"positions" is missing: the positions of this end, each a row of the map')
    for name in ("positions", "far"):
        if fault := _names_fault(row.values.get(name, ())):
            faults.add(row.at(name), fault)
    if any(row.has(name) for name in _LIMITS):
        if not odd:
            _bind_limit(row, asked, faults)
    else:
        for name in [name for name in ("hands", "says", "from") if name in row.values]:
            faults.add(row.at(name), "belongs to a limit; write good, bad, stop, least or most too")


def _bind_limit(row: Fields, asked: str, faults: Faults) -> None:
    """Note what is wrong between the keys that judge a row."""
    flags = [name for name in _FLAGS if name in row.values]
    if asked == _CHOICE:
        _bind_choices(row, faults)
    elif asked in (_YES_NO, _NUMBER):
        wanted = ("good",) if asked == _YES_NO else ("least", "most")
        for name in [name for name in flags if row.values[name] is not True]:
            faults.add(row.at(name), "names choices; here it is true: what is not good is so")
        if len(flags) > 1:
            faults.add(row.at(flags[1]), f"is one too many beside {flags[0]}; it is one or the other")
        if not any(row.has(name) for name in wanted):
            faults.add(row.at(flags[0] if flags else "good"), f"needs {' or '.join(wanted)} too")
        elif asked == _YES_NO and row.values.get("good", "yes") not in ("yes", "no"):
            faults.add(row.at("good"), 'should be "yes" or "no"')
        elif asked == _NUMBER and not row.has("says"):
            faults.add(row.place, '"says" is missing: the reason of its limit, as the person reads it')
    for name, other in (("stop", "hands"), ("hands", "stop")):
        if name in row.values and not row.has(other):
            faults.add(row.at(name), f'needs "{other}" too: what stops all work says what the hands do now')


def _bind_choices(row: Fields, faults: Faults) -> None:
    choices, seen = row.values["one_of"], set[str]()
    for name in _LIMITS:
        for word in _words(row, name):
            if word not in choices:
                hint = nearest(word, choices, f"it has {', '.join(choices)}")
                faults.add(row.at(name), f'"{short(word)}" is not a choice of this row; {hint}')
            elif word in seen:
                faults.add(row.at(name), f'"{short(word)}" is in two of good, bad, bearable, doubtful and stop')
            seen.add(word)


def _odd(name: str, value: object) -> str:
    """Return the sentence for a key that no row has: of numbers, it would be a unit."""
    if isinstance(value, list) and value and isinstance(value[0], int | float):
        return unit_fault(name)
    keys = [key for key in ENTRY.keys if key not in UNIT_OF]
    hint = nearest(name, keys, f"a row has {', '.join(keys)}, or a unit with its range")
    return f"is not a key here; {hint}"


def _having(*names: str) -> Schema:
    return {"anyOf": [{"required": [name]} for name in names]}


def _asking(asked: str) -> Schema:
    """Return the schema of a row that asks that."""
    if asked in (_CHOICE, _NUMBER):
        return _having(*(("one_of",) if asked == _CHOICE else UNIT_OF))
    said: Schema = {"properties": {"of": {"const": asked}}, "required": ["of"]}
    return {"anyOf": [said, _YES_NO_ALONE]} if asked == _YES_NO else said


_YES_NO_ALONE: Schema = {"not": _having(*_KINDS), "properties": {"good": {"enum": ["yes", "no"]}}, "required": ["good"]}
_ALL_TRUE: Schema = {key: {"const": True} for key in _FLAGS}

_RULES: tuple[Schema, ...] = (
    {"oneOf": [*({"required": [name]} for name in _KINDS), _YES_NO_ALONE]},
    *(
        {"if": _asking(asked), "then": {"not": _having(*(name for name, of in _BELONGS.items() if asked not in of))}}
        for asked in (_CHOICE, _NUMBER, *_LABELS)
    ),
    {"if": _asking(PIN_MAP), "then": {"required": ["positions"]}},
    {"if": _having("hands", "says", "from"), "then": _having(*_LIMITS)},
    {"dependentRequired": {"stop": ["hands"], "hands": ["stop"], "least": ["says"], "most": ["says"]}},
    {
        "if": _asking(_CHOICE),
        "then": {"properties": {key: _CHOICES.schema() for key in _FLAGS}},
        "else": {"properties": {"good": {"enum": ["yes", "no"]}, **_ALL_TRUE}},
    },
    {"if": {"not": _asking(_CHOICE), **_having(*_FLAGS)}, "then": _having("good", "least", "most")},
)
"""What binds the keys of a row, as ``_binds`` says it."""

ENTRY = table(Entry, "row", _MORE, _binds, _RULES, _odd)


def asks(row: Fields) -> str:
    """Return what a row asks: a number, a choice, or its ``of``; empty if it does not tell right one thing."""
    given = [name for name in _KINDS if row.has(name)]
    if not given:
        return _YES_NO if row.values.get("good") in ("yes", "no") else ""
    if len(given) > 1 or given[0] not in row.values:
        return ""
    return {"of": row.text("of"), "one_of": _CHOICE}.get(given[0], _NUMBER)


def unit_of(row: Fields) -> str:
    """Return the unit of the entry that a row becomes; empty for a count, and where it does not tell right."""
    asked = asks(row)
    if asked != _NUMBER:
        return "choice" if asked == _CHOICE else asked
    return next(unit for name, unit in UNIT_OF.items() if name in row.values)


def _words(row: Fields, name: str) -> list[str]:
    found = row.values.get(name, [])
    return [found] if isinstance(found, str) else found if isinstance(found, list) else []


def build_entry(name: str, row: Fields, scope: Scope, *, fact: bool) -> Entry:
    """Return the entry that a row becomes."""
    unit = unit_of(row)
    of_range = next((key for key in UNIT_OF if key in row.values), "")
    hard, likely = ends(unit).made(row.values[of_range], row.at(of_range), scope) if of_range else (None, None)
    _check_offers(row, scope)
    known = KNOWN_WORDS[row.text("known")] if "known" in row.values else _usually_known(row, unit, fact=fact)
    by = USUAL.get(unit, "") if known is Known.MEASURED and not fact else ""
    entry: Entry = row.make(scope, id=name, unit=unit, hard=hard, likely=likely, known=known, instrument=by)
    return entry


def _usually_known(row: Fields, unit: str, *, fact: bool) -> Known:
    """Return how a thing is known if the row does not say."""
    if "by" in row.values:
        return Known.MEASURED
    if unit in ("choice", _YES_NO, _WORDS, ""):
        return Known.SEEN
    return Known.LABEL if fact or unit == WIRE else Known.MEASURED


def _check_offers(row: Fields, scope: Scope) -> None:
    for name in gaps(row.values.get("offers", ())):
        if name != DAY and name not in scope.units:
            scope.faults.add(row.at("offers"), unknown_name(name, {**scope.units, DAY: ""}))


def _names_fault(names: Sequence[str]) -> str:
    small = [name.lower() for name in names]
    for name in names:
        if name.lower() in NOT_NAMES:
            return f'holds "{name}", which is typed for a position that reaches nothing; call it otherwise'
        if small.count(name.lower()) > 1:
            return f'holds "{name}" twice; each position has a name of its own'
    return ""


def row_limits(entry: Entry, row: Fields, scope: Scope) -> Iterator[tuple[Place, StepLimit]]:
    """Give the limits that stand in a row, the worst first, each with its place."""
    source = SOURCE_NAME.made(row.text("from"), row.at("from"), scope) if "from" in row.values else COMMON
    for key, band, expression, good in _judged(entry, row, scope):
        says = row.text("says") or f"{entry.ask}: {' or '.join(good)}"
        hands = row.text("hands") if band == "stop" else ""
        if expression is not None:
            yield row.at(key), StepLimit(expression, BANDS[band], says, source, hands)


def _judged(entry: Entry, row: Fields, scope: Scope) -> Iterator[tuple[str, str, Expression | None, Sequence[str]]]:
    """Give of each limit the key where it stands, the band of what misses it, what must hold, and the good answers."""
    if entry.unit == "choice":
        bands = {word: band for band in ("good", *BANDS) for word in _words(row, band)}
        rest = "bad" if "good" in row.values else "good"
        good = [word for word in entry.choices if bands.get(word, rest) == "good"]
        for band in BANDS:
            bad = [word for word in entry.choices if bands.get(word, rest) == band]
            if bad:
                yield (band if band in row.values else "good"), band, chosen(entry.id, entry.choices, bad), good
        return
    band = next((name for name in _FLAGS if name in row.values), "bad")
    if entry.unit == _YES_NO and row.values.get("good") in ("yes", "no"):
        good = [row.text("good")]
        yield "good", band, parse(f'{entry.id} == "{good[0]}"', scope.units), good
    elif "least" in row.values or "most" in row.values:
        least, most = (
            f"{plain(row.values[name])} {entry.unit}".rstrip() if name in row.values else ""
            for name in ("least", "most")
        )
        one_end = f"<= {most}" if most else f">= {least}"
        limit = f"{least} <= {entry.id} <= {most}" if least and most else f"{entry.id} {one_end}"
        key = "least" if least else "most"
        yield key, band, CONDITION.made(limit, row.at(key), scope), ()
