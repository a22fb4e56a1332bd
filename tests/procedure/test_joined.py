"""A table that is too long for a line goes on under its name with a hyphen, and is one."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.faults import Faults, Place
from engine.procedure.joined import joined
from engine.procedure.lines import LineIndex
from tests.procedure.small import changed, faults_of, loaded

ROW = 'fact.barrel_depth = { ask = "Depth of the barrel", mm = [5, 10, 20, 40] }'


def whole(text: str) -> tuple[dict[str, object], list[str]]:
    """Return the tables of a text put together, and the faults."""
    faults = Faults()
    found = joined(tomllib.loads(text), Place("own.toml", LineIndex(text)), faults)
    return found, [str(fault) for fault in faults.in_order()]


@pytest.mark.parametrize(
    "parts",
    [
        'fact.barrel_depth = { ask = "Depth of the barrel" }\nfact.barrel_depth- = { mm = [5, 10, 20, 40] }',
        'fact.barrel_depth = { mm = [5, 10, 20, 40] }\nfact.barrel_depth-- = { ask = "Depth of the barrel" }',
        'fact.barrel_depth.ask = "Depth of the barrel"\nfact.barrel_depth-.mm = [5, 10, 20, 40]',
    ],
)
def test_a_row_in_parts_is_the_row(parts: str) -> None:
    assert loaded(changed(ROW, parts)).entry_by_id["barrel_depth"] == loaded().entry_by_id["barrel_depth"]


def test_any_table_goes_on() -> None:
    text = changed('back = "5.2 m", engine_space = "no" }', 'back = "5.2 m" }\nfound- = { engine_space = "no" }')
    assert loaded(text).circuit == loaded().circuit


def test_a_fault_in_a_part_stands_on_its_own_line() -> None:
    parts = 'fact.barrel_depth  = { ask = "Depth of the barrel" }\nfact.barrel_depth- = { mm = [5, 20, 10, 40] }'
    (fault,) = faults_of(changed(ROW, parts))
    assert fault.startswith('small.toml: line 40, step "plan", fact.barrel_depth, mm: has its numbers in another order')


def test_what_is_said_in_two_parts_is_a_fault() -> None:
    assert whole("a = { b = 1 }\na- = { b = 2, c = 3 }\n")[1] == [
        "own.toml: line 1, a.b: is said again where the table goes on; say it once"
    ]


@pytest.mark.parametrize("text", ["a- = { b = 1 }\n", "a = 1\na- = { b = 1 }\n", "a = { b = 1 }\na- = 1\n"])
def test_what_goes_on_from_no_table_is_a_fault(text: str) -> None:
    assert whole(text)[1][0].endswith('"a-" goes on from a table "a", and there is none above it')


PARTS = st.lists(st.dictionaries(st.sampled_from("abcdefgh"), st.integers(), min_size=1), min_size=1, max_size=4)


@given(PARTS)
def test_the_parts_of_a_table_are_put_together_or_refused(parts: list[dict[str, int]]) -> None:
    text = "".join(
        f"x{'-' * number} = {{ {', '.join(f'{key} = {value}' for key, value in part.items())} }}\n"
        for number, part in enumerate(parts)
    )
    found, faults = whole(text)
    keys = [key for part in parts for key in part]
    assert set(found["x"]) == set(keys)
    assert bool(faults) == (len(keys) > len(set(keys)))
