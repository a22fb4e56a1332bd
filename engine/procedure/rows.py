"""A row that asks one thing: which keys belong together, and the entry and the limits that it becomes."""

from collections.abc import Iterator, Sequence

from engine.finding import Verdict
from engine.procedure.amounts import unit_fault
from engine.procedure.faults import Faults, Place
from engine.procedure.forms import (
    COMMON,
    Condition,
    Ends,
    Number,
    OneOf,
    Schema,
    SourceName,
    Text,
    Texts,
    nearest,
    plain,
    short,
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

LABELS = (WIRE, "words", "yes/no", PIN_MAP)
"""What a row may ask that is neither a number nor a choice."""

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

_KINDS = ("of", "one_of", *UNIT_OF)

BANDS = {"stop": Verdict.FAIL, "fail": Verdict.FAIL, "doubtful": Verdict.UNDECIDED, "bearable": Verdict.MARGINAL}
"""What the answers are that are not good, from the worst: all but ``fail`` are keys of a row."""

_FLAGS = tuple(band for band in BANDS if band != "fail")

_NUMBER_KEYS, _PIN_KEYS, _MARKS = ("signed", "over_range", "least", "most"), ("positions", "far"), ("says", "from")


class _TrueOrTexts(Texts):
    """``true`` for what has one limit, or the choices of a choice."""

    __slots__ = ()

    def fault(self, value: object) -> str:
        return "" if value is True else super().fault(value)

    def schema(self) -> Schema:
        return {"oneOf": [{"const": True}, super().schema()]}


def _range_says(unit: str) -> str:
    return f"{kind_words(kind_of(unit))}: impossible below, unusual below, unusual above, impossible above"


_MORE = {
    "of": Key(OneOf(LABELS), "what is asked, if it is no number and no choice"),
    **{name: Key(Ends(unit), _range_says(unit)) for name, unit in UNIT_OF.items()},
    "good": Key(Texts(), 'the good choices, or "yes" or "no"; every other answer fails'),
    "bearable": Key(_TrueOrTexts(), "choices that are marginal; true: what is not good is marginal"),
    "doubtful": Key(_TrueOrTexts(), "choices that are undecided; true: what is not good is undecided"),
    "stop": Key(_TrueOrTexts(), "choices that fail, and stop all work; true: what is not good does"),
    "hands": Key(Text(), "what the hands do now, where it says stop"),
    "least": Key(Number(), "the least good value, in the unit of the row"),
    "most": Key(Number(), "the largest good value, in the unit of the row"),
    "says": Key(Text(), "the reason of its limit, as the person reads it"),
    "from": Key(SourceName(), "where its limit comes from, by a name of [source]; common practice if left out"),
}


def _binds(row: Fields, faults: Faults) -> None:
    """Note what is wrong between the keys of a row."""
    given = [name for name in _KINDS if row.has(name)]
    if len(given) != 1 and not is_yes_no(row):
        wanted = 'needs of, one_of, a unit with its range such as mm = [0, 5, 40, 60], or good = "yes"'
        if given or not row.wrong:
            faults.add(row.place, f"has {' and '.join(given)}; it asks one thing" if given else wanted)
        return
    unit = unit_of(row)
    asks = unit if unit in LABELS else "a choice" if unit == "choice" else "a number"
    for names, kind in ((_NUMBER_KEYS, "a number"), (_PIN_KEYS, PIN_MAP), (("offers",), "words")):
        for name in [name for name in names if name in row.values and asks != kind]:
            faults.add(row.at(name), f"belongs to {kind}; this asks {asks}")
    if unit == PIN_MAP and not row.has("positions"):
        faults.add(row.place, '"positions" is missing: the positions of this end, each a row of the map')
    for name in [name for name in _PIN_KEYS if name in row.values]:
        if fault := _names_fault(row.values[name]):
            faults.add(row.at(name), fault)
    _bind_limits(row, asks, faults)


def _bind_limits(row: Fields, asks: str, faults: Faults) -> None:
    """Note what is wrong between the keys that judge the row."""
    bands = [name for name in ("good", *_FLAGS, "least", "most") if name in row.values]
    for name in [name for name in (*_MARKS, "hands") if name in row.values and not bands]:
        faults.add(row.at(name), "belongs to a limit; write good, stop, least or most too")
    if asks in (WIRE, "words", PIN_MAP):
        for name in bands:
            faults.add(row.at(name), f"judges a choice, yes or no, or a number; this asks {asks}")
    elif asks == "a choice":
        _bind_choices(row, faults)
    else:
        _bind_marks(row, asks, faults)
    if ("stop" in row.values) != ("hands" in row.values) and bands:
        lacking, other = ("hands", "stop") if "stop" in row.values else ("stop", "hands")
        faults.add(row.at(other), f'needs "{lacking}" too: what stops all work says what the hands do now')


def _bind_choices(row: Fields, faults: Faults) -> None:
    choices, seen = row.values.get("one_of", []), set[str]()
    for name in ("good", *_FLAGS):
        for word in texts(row, name):
            if word not in choices:
                hint = nearest(word, choices, f"it has {', '.join(choices)}")
                faults.add(row.at(name), f'"{short(word)}" is not a choice of this row; {hint}')
            elif word in seen:
                faults.add(row.at(name), f'"{short(word)}" is in two of good, bearable, doubtful and stop')
            seen.add(word)


def _bind_marks(row: Fields, asks: str, faults: Faults) -> None:
    """Note what is wrong where one limit judges: yes or no, or a number."""
    flags = [name for name in _FLAGS if name in row.values]
    for name in [name for name in flags if row.values[name] is not True]:
        faults.add(row.at(name), "names choices; here it is true: what is not good is so")
    if len(flags) > 1:
        faults.add(row.at(flags[1]), f"is one too many beside {flags[0]}; it is one or the other")
    judged = "good" in row.values if asks == "yes/no" else "least" in row.values or "most" in row.values
    if asks == "a number" and "good" in row.values:
        faults.add(row.at("good"), "belongs to a choice, or to yes or no; a number has least and most")
    elif asks == "yes/no" and judged and row.values["good"] not in ("yes", "no"):
        faults.add(row.at("good"), 'should be "yes" or "no"')
    elif flags and not judged:
        faults.add(row.at(flags[0]), f"needs {'good' if asks == 'yes/no' else 'least or most'} too")
    if asks == "a number" and judged and not row.has("says"):
        faults.add(row.place, '"says" is missing: the reason of its limit, as the person reads it')


def _odd(name: str, value: object) -> str:
    """Return the sentence for a key that no row has: of numbers, it would be a unit."""
    if isinstance(value, list) and value and isinstance(value[0], int | float):
        return unit_fault(name)
    keys = [key for key in ENTRY.keys if key not in UNIT_OF]
    return f"is not a key here; {nearest(name, keys, f'a row has {chr(44).join(keys)}, or a unit with its range')}"


def _having(*names: str) -> Schema:
    return {"anyOf": [{"required": [name]} for name in names]}


_ALL_TRUE: Schema = {key: {"const": True} for key in _FLAGS}
_YES_NO_ALONE: Schema = {
    "not": {"anyOf": [{"required": [name]} for name in _KINDS]},
    "properties": {"good": {"enum": ["yes", "no"]}},
    "required": ["good"],
}
_NOT_JUDGED = {"properties": {"of": {"enum": [WIRE, "words", PIN_MAP]}}, "required": ["of"]}

_RULES: tuple[Schema, ...] = (
    {"oneOf": [*({"required": [name]} for name in _KINDS), _YES_NO_ALONE]},
    {"if": _having("of", "one_of"), "then": {"not": _having(*_NUMBER_KEYS)}},
    {"if": {"properties": {"of": {"const": PIN_MAP}}, "required": ["of"]}, "then": {"required": ["positions"]},
     "else": {"not": _having(*_PIN_KEYS)}},
    {"if": {"properties": {"of": {"const": "words"}}, "required": ["of"]}, "else": {"not": _having("offers")}},
    {"if": _having(*_MARKS, "hands"), "then": _having("good", *_FLAGS, "least", "most")},
    {"dependentRequired": {"stop": ["hands"], "hands": ["stop"]}},
    {"if": _NOT_JUDGED, "then": {"not": _having("good", *_FLAGS)}},
    {"if": {"properties": {"of": {"const": "yes/no"}}, "required": ["of"]},
     "then": {"properties": {"good": {"enum": ["yes", "no"]}, **_ALL_TRUE}},
     "else": {"if": {"required": ["one_of"]}, "then": {"properties": dict.fromkeys(_FLAGS, Texts().schema())},
              "else": {"not": {"required": ["good"]}, "properties": _ALL_TRUE}}},
    {"if": {"allOf": [_having(*_FLAGS), {"not": _having("one_of")}]}, "then": _having("good", "least", "most")},
    {"if": _having("least", "most"), "then": {"required": ["says"]}},
)  # fmt: skip
"""What binds the keys of a row, as ``_binds`` says it."""

ENTRY = table(Entry, "row", _MORE, _binds, _RULES, _odd)


def asks_one_thing(row: Fields) -> bool:
    """Return whether a row tells right what it asks."""
    return sum(name in row.values for name in _KINDS) == 1 or is_yes_no(row)


def is_yes_no(row: Fields) -> bool:
    """Return whether a row says what it asks by its good answer alone: yes or no."""
    return not any(row.has(name) for name in _KINDS) and row.values.get("good") in ("yes", "no")


def unit_of(row: Fields) -> str:
    """Return the unit of the entry that a row becomes; empty for a count, and where none is told right."""
    if "one_of" in row.values:
        return "choice"
    if is_yes_no(row):
        return "yes/no"
    return row.text("of") or next((unit for name, unit in UNIT_OF.items() if name in row.values), "")


def texts(row: Fields, name: str) -> list[str]:
    """Return the choices under a key, one or several."""
    found = row.values.get(name, [])
    return [found] if isinstance(found, str) else found if isinstance(found, list) else []


def build_entry(name: str, row: Fields, scope: Scope, *, fact: bool) -> Entry:
    """Return the entry that a row becomes."""
    unit = unit_of(row)
    of_range = next((key for key in UNIT_OF if key in row.values), None)
    hard, likely = None, None
    if of_range:
        hard, likely = Ends(unit).made(row.values[of_range], row.at(of_range), scope)
    _check_offers(row, scope)
    known = KNOWN_WORDS[row.text("known")] if "known" in row.values else _usually_known(row, unit, fact=fact)
    by = USUAL.get(unit, "") if known is Known.MEASURED and not fact else ""
    entry: Entry = row.make(scope, id=name, unit=unit, hard=hard, likely=likely, known=known, instrument=by)
    return entry


def _usually_known(row: Fields, unit: str, *, fact: bool) -> Known:
    """Return how a thing is known if the row does not say."""
    if "by" in row.values:
        return Known.MEASURED
    if unit in ("choice", "yes/no", "words", ""):
        return Known.SEEN
    return Known.LABEL if fact or unit == WIRE else Known.MEASURED


def row_limits(entry: Entry, row: Fields, scope: Scope) -> Iterator[tuple[Place, StepLimit]]:
    """Give the limits that stand in a row, the worst first, each with its place."""
    source = SourceName().made(row.text("from"), row.at("from"), scope) if "from" in row.values else COMMON
    for key, band, expression, good in _judged(entry, row, scope):
        says = row.text("says") or f"{entry.ask}: {' or '.join(good)}"
        hands = row.text("hands") if band == "stop" else ""
        if expression is not None:
            yield row.at(key), StepLimit(expression, BANDS[band], says, source, hands)


def _judged(entry: Entry, row: Fields, scope: Scope) -> Iterator[tuple[str, str, Expression | None, Sequence[str]]]:
    """Give of each limit the key where it stands, the band of what misses it, what must hold, and the good answers."""
    if entry.unit == "choice":
        bands = {word: band for band in ("good", *_FLAGS) for word in texts(row, band)}
        rest = "fail" if "good" in row.values else "good"
        good = [word for word in entry.choices if bands.get(word, rest) == "good"]
        for band in BANDS:
            bad = [word for word in entry.choices if bands.get(word, rest) == band]
            if bad:
                yield ("good" if band == "fail" else band), band, chosen(entry.id, entry.choices, bad), good
        return
    band = next((name for name in _FLAGS if name in row.values), "fail")
    if entry.unit == "yes/no" and row.values.get("good") in ("yes", "no"):
        good = [row.text("good")]
        yield "good", band, parse(f'{entry.id} == "{good[0]}"', scope.units), good
    elif "least" in row.values or "most" in row.values:
        least, most = (
            f"{plain(row.values[name])} {entry.unit}".rstrip() if name in row.values else ""
            for name in ("least", "most")
        )
        text = (
            f"{least} <= {entry.id} <= {most}"
            if least and most
            else f"{entry.id} {f'<= {most}' if most else f'>= {least}'}"
        )
        key = "least" if least else "most"
        yield key, band, Condition().made(text, row.at(key), scope), ()


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
