"""Every table and key of a TOML text is found on its line, whatever strings, lists and remarks stand between."""

import tomllib

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.lines import LineIndex

TEXT = '''\
a = 1 # [[not.a.table]]
list = [ # [[
  "]", 'x',
  [1, 2],
]
text = """
[[step]]
id = "in a string"
"""
literal = \'\'\'
a = 2
\'\'\'
"quoted key" . sub = "\\"#"

[[step]]
id = "first"
with = { a = [1,
  2] }
  [[step.reading]]
  id = "one"
  [[step.reading]]
  id = "two"
  [step.view]
  title = "x"
[[step]]
id = "second"
  [[ step . reading ]]
  id = "three"
[circuit]
[[circuit.part]]
id = "run"
'''

LINES = [
    (("a",), 1),
    (("list",), 2),
    (("text",), 6),
    (("literal",), 10),
    (("quoted key", "sub"), 13),
    (("step", 0), 15),
    (("step", 0, "id"), 16),
    (("step", 0, "with"), 17),
    (("step", 0, "reading", 0, "id"), 20),
    (("step", 0, "reading", 1), 21),
    (("step", 0, "view", "title"), 24),
    (("step", 1, "id"), 26),
    (("step", 1, "reading", 0, "id"), 28),
    (("circuit", "part", 0, "id"), 31),
]


def test_the_text_of_these_tests_is_toml() -> None:
    assert tomllib.loads(TEXT)["step"][1]["reading"][0]["id"] == "three"


@pytest.mark.parametrize(("path", "line"), LINES)
def test_a_key_is_found_on_its_line(path: tuple[str | int, ...], line: int) -> None:
    assert LineIndex(TEXT).line(path) == line


@pytest.mark.parametrize(
    ("path", "line"), [(("step", 0, "nothing"), 15), (("step", 0, "with", "a", 1), 17), (("step", 7, "id"), 0), ((), 0)]
)
def test_what_has_no_line_of_its_own_takes_that_of_the_nearest_table_around(
    path: tuple[str | int, ...], line: int
) -> None:
    assert LineIndex(TEXT).line(path) == line


@pytest.mark.parametrize("text", ["", "\n", "a = 1", "[a]", "# only a remark", "a = '''\n'''"])
def test_the_shortest_texts_have_an_index(text: str) -> None:
    assert set(LineIndex(text).by_path.values()) <= {1}


KEYS = st.sampled_from(["id", "ask", "with", "the key", "a.b", "é", "#"])
VALUES = st.recursive(
    st.one_of(st.text(st.characters(exclude_categories=["Cs"]), max_size=12), st.integers(-9, 9), st.booleans()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=3)),
    max_leaves=6,
)


@given(
    st.dictionaries(KEYS, VALUES, max_size=4),
    st.lists(st.dictionaries(KEYS, VALUES, min_size=1, max_size=4), max_size=4),
)
def test_in_any_text_a_key_is_found_on_a_line_that_names_it(
    head: dict[str, object], steps: list[dict[str, object]]
) -> None:
    text = tomli_w.dumps({**head, "step": steps}, multiline_strings=True)
    lines = text.split("\n")
    index = LineIndex(text)
    for path, line in index.by_path.items():
        last = [part for part in path if isinstance(part, str)][-1]
        assert last in lines[line - 1].encode().decode("unicode_escape", "replace") or last in lines[line - 1]


@given(st.lists(st.dictionaries(KEYS, VALUES, min_size=1, max_size=3), min_size=1, max_size=4))
def test_every_table_of_a_list_has_a_line_of_its_own(steps: list[dict[str, object]]) -> None:
    text = "".join(f"[[step]]\n{tomli_w.dumps({'text': str(step)})}" for step in steps)
    lines = [LineIndex(text).line(("step", number)) for number in range(len(steps))]
    assert lines == [number for number, line in enumerate(text.split("\n"), 1) if line == "[[step]]"]
