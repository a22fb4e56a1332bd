"""The text that is written of tables reads back as those tables, is the same for the same, and keeps to its width."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.load import load
from engine.procedure.write import LONGEST, written
from engine.shipped import shipped

NAMES = st.text("abcdefgh-_ .é\"'", min_size=1, max_size=12)
TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\r"), max_size=200)
LEAVES = st.one_of(TEXTS, st.integers(-(10**9), 10**9), st.floats(-1e9, 1e9), st.booleans())
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(NAMES, inner, max_size=4)),
    max_leaves=12,
)
TABLES = st.dictionaries(NAMES, VALUES, max_size=5)


def read_back(text: str) -> dict[str, object]:
    """Return the tables of a text."""
    return tomllib.loads(text)


@given(TABLES)
def test_any_tables_read_back_as_they_were(raw: dict[str, object]) -> None:
    assert read_back(written(raw)) == raw


@given(TABLES, st.lists(TABLES, min_size=1, max_size=3), st.dictionaries(NAMES, TABLES, min_size=1, max_size=3))
def test_steps_of_sections_and_rows_of_any_kind_read_back(
    head: dict[str, object], steps: list[dict[str, object]], rows: dict[str, dict[str, object]]
) -> None:
    raw = {**head, "source": rows, "section": [{"id": "a", "step": [{**step, "read": rows} for step in steps]}]}
    assert read_back(written(raw)) == raw


@given(TABLES)
def test_the_same_tables_are_the_same_text(raw: dict[str, object]) -> None:
    assert written(read_back(written(raw))) == written(raw)


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_no_line_of_a_shipped_procedure_in_a_log_is_wider_than_a_screen_can_be(path) -> None:
    assert [line for line in load(path).text.split("\n") if len(line) > LONGEST] == []
