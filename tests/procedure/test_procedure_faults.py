"""Each fault of a procedure file is one line that says where, what is wrong and what would be right."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from engine.procedure.faults import Faults, Place
from engine.procedure.lines import LineIndex
from tests.procedure.small import SMALL, changed, faults_of

CASES = tomllib.loads(Path(__file__).with_name("faults.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["new"] or f"without {case['old']}")
def test_a_fault_is_told_with_its_place(case: dict[str, Any]) -> None:
    assert faults_of(changed(case["old"], case["new"])) == case["faults"]


def test_a_circle_of_gates_is_told_once_with_its_way() -> None:
    text = changed('lasts = "12 h"', 'needs = ["covers-on"]').replace('closes = ["covers"]', 'needs = ["strip"]')
    assert faults_of(text) == [
        'small.toml: line 71, step "strip", needs: the gates go in a circle, strip -> covers-on -> strip; '
        "take one of them out"
    ]


def test_a_step_that_needs_itself_is_a_circle() -> None:
    text = changed('lasts = "12 h"', 'needs = ["strip"]')
    assert faults_of(text) == [
        'small.toml: line 71, step "strip", needs: the gates go in a circle, strip -> strip; take one of them out'
    ]


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    text = (
        changed('revision = "1"', "revision = 1")
        .replace('unit = "A"', 'unit = "amps"')
        .replace('"covers"]', '"cover"]')
    )
    assert [fault.split(",")[0] for fault in faults_of(text)] == [
        "small.toml: line 4", "small.toml: line 12", "small.toml: line 99"
    ]  # fmt: skip


def test_a_sound_file_has_no_fault() -> None:
    assert faults_of(SMALL) == []


def test_a_count_in_the_place_of_a_length_is_told_as_one_without_a_unit() -> None:
    count = changed('unit = "A"\nhard = ["5 A", "120 A"]\nlikely = ["30 A", "60 A"]', 'unit = ""\nhard = ["5", "120"]')
    assert faults_of(count.replace('out = "5.2 m"', 'out = "motor_current"')) == [
        'small.toml: line 36, circuit, part "run", found, out: motor_current is a count (no unit); '
        "a length is asked here"
    ]


class Sliced(list):
    """A list that counts how many of its items were handed out in slices."""

    handed = 0

    def __getitem__(self, at: object) -> object:
        found = super().__getitem__(at)
        Sliced.handed += len(found) if isinstance(at, slice) else 1
        return found


def test_each_fault_is_looked_at_once_however_often_a_place_is_asked_about() -> None:
    """A file of a stranger's may have ten thousand faults: asking about each place must not go through all of them."""
    faults, place = Faults(Sliced()), Place("own.toml", LineIndex(""))
    for number in range(200):
        assert not faults.stands_at(place.key(f"key{number}"))
        faults.add(place.key(f"key{number}"), "is wrong")
        assert faults.stands_at(place.key(f"key{number}"))
    assert Sliced.handed == 200
