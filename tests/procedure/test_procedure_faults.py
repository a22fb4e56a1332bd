"""Each fault of a procedure file is one line that says where, what is wrong and what would be right."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.load import ProcedureFaults, load_text, read_logged
from tests.procedure.linting import linted
from tests.procedure.small import SMALL, changed, faults_of, loaded

CASES = tomllib.loads(Path(__file__).with_name("faults.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["new"] or f"without {case['old']}")
def test_a_fault_is_told_with_its_place(case: dict[str, Any]) -> None:
    assert faults_of(changed(case["old"], case["new"])) == case["faults"]


def test_a_circle_of_gates_is_told_once_with_its_way() -> None:
    text = changed('title = "Strip"', 'title = "Strip"\nneeds = ["covers-on"]')
    text = changed('title = "Covers on"', 'title = "Covers on"\nneeds = ["strip"]', text)
    assert faults_of(text) == [
        'small.toml: line 53, step "strip", needs: the gates go in a circle, strip -> covers-on -> strip; '
        "take one of them out"
    ]


def test_a_step_that_needs_itself_is_a_circle() -> None:
    assert faults_of(changed('title = "Strip"', 'title = "Strip"\nneeds = ["strip"]')) == [
        'small.toml: line 53, step "strip", needs: the gates go in a circle, strip -> strip; take one of them out'
    ]


def test_pieces_that_rest_on_each_other_are_a_circle() -> None:
    text = changed('end = { name = "the stripped end" }', 'end = { name = "the end", rests_on = ["joint"] }')
    assert faults_of(text) == [
        "small.toml: line 16, piece.end, rests_on: the pieces go in a circle, end -> joint -> end; take one of them out"
    ]


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    text = changed('revision = "1"', "revision = 1").replace("A = [5,", "amps = [5,").replace('"covers"]', '"cover"]')
    assert [fault.split(",")[0] for fault in faults_of(text)] == [
        "small.toml: line 4", "small.toml: line 36", "small.toml: line 75"
    ]  # fmt: skip


def test_what_names_a_row_that_could_not_be_read_is_not_told_too() -> None:
    assert len(faults_of(changed("mm = [5, 10, 20, 40]", "millimetres = [5, 10, 20, 40]"))) == 1


def test_a_sound_file_has_no_fault() -> None:
    assert faults_of(SMALL) == []


def test_a_count_in_the_place_of_a_length_is_told_as_one_without_a_unit() -> None:
    text = changed("A = [5, 30, 60, 120]", "count = [5, 30, 60, 120]").replace('out = "5.2 m"', 'out = "motor_current"')
    assert faults_of(text) == [
        "small.toml: line 23, circuit.run, found.out: motor_current is a count (no unit); a length is asked here"
    ]


LINES = SMALL.split("\n")


@given(st.integers(0, len(LINES) - 1), st.sampled_from(["", "x", "x = 1", "x = { }", "[x]", "[[section]]", "read = 1"]))
def test_with_any_line_changed_it_is_refused_on_its_lines_or_reads_back_from_its_text(number: int, line: str) -> None:
    text = "\n".join([*LINES[:number], line, *LINES[number + 1 :]])
    found = linted(text).faults
    assert all(0 <= fault.line <= len(LINES) and str(fault).isprintable() for fault in found)
    if not faults_of(text):
        assert read_logged(loaded(text).text) == loaded(text)


@given(st.text("abc=[]{}\"'.\n# 1-", max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    with pytest.raises(ProcedureFaults) as found:
        load_text(text, "any.toml")
    assert all(fault.file == "any.toml" for fault in found.value.faults)


VALUES = st.recursive(
    st.one_of(st.text(max_size=5), st.integers(), st.booleans(), st.floats()),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(["id", "ask", "mm", "good", "read", "step", "fill", "borrow", "is"]), inner),
    ),
    max_leaves=8,
)


@given(st.data())
def test_values_of_any_form_are_faults_and_nothing_worse(data: st.DataObject) -> None:
    import tomli_w

    keys = ("source", "zone", "piece", "circuit", "section", "title", "tools", "schema")
    raw = {key: data.draw(VALUES) for key in data.draw(st.sets(st.sampled_from(keys), min_size=1))}
    with pytest.raises(ProcedureFaults):
        load_text(tomli_w.dumps(raw), "any.toml")
    step = {key: data.draw(VALUES) for key in ("read", "fact", "check", "limit", "warn", "opens", "borrow", "needs")}
    with pytest.raises(ProcedureFaults):
        load_text(tomli_w.dumps({"section": [{"id": "a", "step": [step]}]}), "any.toml")
