"""An event as a flat table of the log, and back. Unknown events or keys are named, never dropped."""

import types
from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import datetime
from typing import Any, Union, cast, get_args, get_origin, get_type_hints

from engine.finding import Verdict
from engine.session import events
from engine.session.events import Stamped

Flat = Mapping[str, str | int | float | bool | list[str]]

NAMES: Mapping[type, str] = {
    events.Opened: "opened",
    events.Taken: "reading",
    events.SlipAnswered: "slip_answered",
    events.NotMeasured: "not_measured",
    events.Found: "finding",
    events.Named: "part_named",
    events.Fed: "fed",
    events.StepDone: "step_done",
    events.HoldCleared: "hold_cleared",
    events.Accepted: "accepted",
    events.Deviated: "deviation",
    events.Noted: "note",
    events.Attached: "file_attached",
    events.Left: "left",
    events.Returned: "returned",
    events.Lapsed: "gap",
    events.Stayed: "stayed",
    events.Halted: "halted",
    events.HandsOff: "hands_off",
    events.OthersTold: "others_told",
    events.Corrected: "corrected",
    events.Redone: "redone",
    events.PersonChanged: "person",
    events.InstrumentDeclared: "instrument",
    events.ProfileChosen: "profile",
    events.ItemLeft: "item_left",
    events.ItemFinished: "item_finished",
    events.DueSet: "due",
    events.FollowedUp: "followed_up",
    events.ClockNoted: "clock",
    events.TailSetAside: "tail_set_aside",
    events.Moved: "log_moved",
    events.Stopped: "stopped",
    events.Closed: "closed",
}
"""The word for each event in a log."""

_TYPES = {word: kind for kind, word in NAMES.items()}
_STAMP = frozenset({"event", "n", "at", "mono", "digest"})
_VERDICTS = frozenset(Verdict)


class NotAnEvent(ValueError):
    """A block of a log does not say an event that this version knows; the message says what is wrong."""


def to_flat(stamped: Stamped) -> dict[str, str | int | float | bool | list[str]]:
    """Return the flat table of one event; values that are not there are left out."""
    event = stamped.event
    flat: dict[str, Any] = {"event": NAMES[type(event)], "n": stamped.n, "at": stamped.at, "mono": stamped.mono}
    for item in fields(event):
        value = getattr(event, item.name)
        if value is not None:
            flat[item.name] = value
    return flat


def from_flat(flat: Mapping[str, object]) -> Stamped:
    """Return the event that a flat table says.

    Raises:
        NotAnEvent: if the event is unknown, a key is unknown, missing or of another type, its time is no time with its
            zone, or its verdict is none.
    """
    word = str(flat.get("event", ""))
    kind = _TYPES.get(word)
    if kind is None:
        raise NotAnEvent(f'"{word[:40]}" is not an event that this version knows')
    values = _values(flat, word, kind)
    n, at, mono = flat.get("n"), flat.get("at"), flat.get("mono")
    if not (type(n) is int and isinstance(at, str) and type(mono) in (int, float)):
        raise NotAnEvent(f'event "{word}" lacks its number or time')
    if not _is_time(at):
        raise NotAnEvent(f'event {n} has no readable time: "{at[:40]}"')
    return Stamped(n, at, float(cast(float, mono)), kind(**values))


def _is_time(text: str) -> bool:
    try:
        return datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        return False


def _values(flat: Mapping[str, object], word: str, kind: type) -> dict[str, Any]:
    """Return the values of an event by name; every one that it needs is there, and each is of its type."""
    hints, floats = _HINTS[kind], _FLOATS[kind]
    values: dict[str, Any] = {}
    for name, value in flat.items():
        if name in _STAMP:
            continue
        kinds, its = hints.get(name), type(value)
        if kinds is None:
            raise NotAnEvent(f'event "{word}" has an unknown key "{name[:40]}"')
        if (its is list or its not in kinds) and not _is_texts(value, kinds):
            raise NotAnEvent(f'event "{word}", key "{name}" has a value of the wrong type')
        if name == "verdict" and value not in _VERDICTS:
            raise NotAnEvent(f'event "{word}" has an unknown verdict "{str(value)[:40]}"')
        values[name] = float(cast(int, value)) if its is int and name in floats else value
    absent = next((name for name in _REQUIRED[kind] if name not in values), None)
    if absent is not None:
        raise NotAnEvent(f'event "{word}" lacks the key "{absent}"')
    return values


def _is_texts(value: object, kinds: frozenset[type]) -> bool:
    return list in kinds and isinstance(value, list) and all(isinstance(x, str) for x in value)


def _kinds(hint: object) -> frozenset[type]:
    """Return the types that a key's value may have; a whole number stands for a float too. A list is looked into."""
    parts = get_args(hint) if get_origin(hint) in (Union, types.UnionType) else (hint,)
    kinds = {get_origin(part) or part for part in parts}
    return frozenset(kinds | ({int} if float in kinds else set()))


_HINTS = {kind: {name: _kinds(hint) for name, hint in get_type_hints(kind).items()} for kind in NAMES}
_FLOATS = {kind: frozenset(name for name, kinds in hints.items() if float in kinds) for kind, hints in _HINTS.items()}
_REQUIRED = {
    kind: tuple(f.name for f in fields(kind) if f.default is MISSING and f.default_factory is MISSING) for kind in NAMES
}
