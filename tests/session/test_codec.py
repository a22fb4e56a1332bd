"""Events as flat tables and back: nothing is lost, nothing unknown is taken, and what is wrong is named."""

import tomllib
from dataclasses import fields
from typing import get_type_hints

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.session.codec import NAMES, NotAnEvent, from_flat, to_flat
from engine.session.events import Event, Noted, Stamped

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=20)
NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
OF = {
    str: WORDS,
    bool: st.booleans(),
    float: NUMBERS,
    int: st.integers(0, 2**40),
    int | None: st.none() | st.integers(0, 2**40),
    list[str]: st.lists(WORDS, max_size=3),
    float | None: st.none() | NUMBERS,
    str | None: st.none() | WORDS,
    bool | None: st.none() | st.booleans(),
}


def any_of(kind: type) -> st.SearchStrategy[Event]:
    hints = get_type_hints(kind)
    named = {"verdict": st.sampled_from([str(verdict) for verdict in Verdict])}
    return st.builds(kind, **{item.name: named.get(item.name, OF[hints[item.name]]) for item in fields(kind)})


EVENTS = st.one_of([any_of(kind) for kind in NAMES])


@given(EVENTS, st.integers(1, 10**6), NUMBERS)
def test_every_event_comes_back_through_toml_as_it_was(event: Event, n: int, mono: float) -> None:
    stamped = Stamped(n, "2026-05-02T09:00:00+00:00", mono, event)
    assert from_flat(tomllib.loads(tomli_w.dumps(to_flat(stamped)))) == stamped


def test_every_kind_of_event_has_a_word_of_its_own() -> None:
    assert set(NAMES) == set(Event.__args__)
    assert len(set(NAMES.values())) == len(NAMES)


NOTE = to_flat(Stamped(3, "2026-05-02T09:00:00+00:00", 1.0, Noted(step="a", text="b")))


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"event": "sang"}, '"sang" is not an event that this version knows'),
        ({"colour": "red"}, 'event "note" has an unknown key "colour"'),
        ({"text": 5}, 'event "note", key "text" has a value of the wrong type'),
        ({"n": "3"}, 'event "note" lacks its number or time'),
        ({"n": True}, 'event "note" lacks its number or time'),
        ({"mono": False}, 'event "note" lacks its number or time'),
        ({"text": None}, 'event "note" lacks the key "text"'),
        ({"at": "noon"}, 'event 3 has no readable time: "noon"'),
        ({"at": "2026-05-02T09:00:00"}, 'event 3 has no readable time: "2026-05-02T09:00:00"'),
        (
            {"event": "deviation", "text": None, "key": "limit 1", "reason": "r", "initials": "i", "verdict": "fine"},
            'event "deviation" has an unknown verdict "fine"',
        ),
    ],
)
def test_what_is_wrong_with_an_event_is_named(change: dict[str, object], sentence: str) -> None:
    flat = {k: v for k, v in {**NOTE, **change}.items() if v is not None}
    with pytest.raises(NotAnEvent) as told:
        from_flat(flat)
    assert str(told.value) == sentence
