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

[[section]]
id = "first"
  [[section.step]]
  id = "one"
  read.depth = { ask = "how } deep", mm = [1,
    2], by = "tape" }
  # read.none = 1
  read.hole.ask = "x"
  [[section.step]]
  id = "two"
  list = [
    { is = "a" },
    { is = "b" }, # }
  ]
  [section.step.view]
  title = "x"
[[section]]
id = "second"
  [[ section . step ]]
  id = "three"
[circuit]
[[circuit.part]]
id = "run"
'''

LINES = [
    (("a",), 1),
    (("list",), 2),
    (("list", 1), 3),
    (("list", 2, 1), 4),
    (("text",), 6),
    (("literal",), 10),
    (("quoted key", "sub"), 13),
    (("section", 0), 15),
    (("section", 0, "id"), 16),
    (("section", 0, "step", 0), 17),
    (("section", 0, "step", 0, "read", "depth", "ask"), 19),
    (("section", 0, "step", 0, "read", "depth", "mm", 1), 20),
    (("section", 0, "step", 0, "read", "depth", "by"), 20),
    (("section", 0, "step", 0, "read", "hole"), 22),
    (("section", 0, "step", 1, "list", 1, "is"), 27),
    (("section", 0, "step", 1, "view", "title"), 30),
    (("section", 1, "id"), 32),
    (("section", 1, "step", 0, "id"), 34),
    (("circuit", "part", 0, "id"), 37),
]


def test_the_text_of_these_tests_is_toml() -> None:
    assert tomllib.loads(TEXT)["section"][1]["step"][0]["id"] == "three"


@pytest.mark.parametrize(("path", "line"), LINES)
def test_a_key_is_found_on_its_line(path: tuple[str | int, ...], line: int) -> None:
    assert LineIndex(TEXT).line(path) == line


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("section", 0, "nothing"), 15),
        (("section", 0, "step", 0, "read", "depth", "why"), 19),
        (("step", 7), 0),
        ((), 0),
    ],
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
    for path, line in LineIndex(text).by_path.items():
        if isinstance(path[-1], str):
            named = lines[line - 1].encode().decode("unicode_escape", "replace")
            assert path[-1] in named or path[-1] in lines[line - 1]


@given(
    st.dictionaries(KEYS, VALUES, max_size=4),
    st.lists(st.dictionaries(KEYS, VALUES, min_size=1, max_size=4), max_size=4),
)
def test_every_value_of_any_text_has_a_line(head: dict[str, object], steps: list[dict[str, object]]) -> None:
    text = tomli_w.dumps({**head, "step": steps}, multiline_strings=True)
    known = LineIndex(text).by_path
    assert [path for path in leaves(tomllib.loads(text)) if path not in known] == []


def leaves(value: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Return the paths of all values that hold no others."""
    if not isinstance(value, dict | list):
        return [path]
    pairs = value.items() if isinstance(value, dict) else enumerate(value)
    return [leaf for key, item in pairs for leaf in leaves(item, (*path, key))]


@given(st.lists(st.dictionaries(KEYS, VALUES, min_size=1, max_size=3), min_size=1, max_size=4))
def test_every_table_of_a_list_has_a_line_of_its_own(steps: list[dict[str, object]]) -> None:
    text = "".join(f"[[step]]\n{tomli_w.dumps({'text': str(step)})}" for step in steps)
    lines = [LineIndex(text).line(("step", number)) for number in range(len(steps))]
    assert lines == [number for number, line in enumerate(text.split("\n"), 1) if line == "[[step]]"]
