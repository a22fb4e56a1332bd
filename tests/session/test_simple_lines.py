"""The reader of simple lines says what the TOML reader says, or leaves the block to it; it never says otherwise."""

import tomllib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from engine.session import block
from engine.session.block import Unreadable, decode_event, decode_header, encode_header
from engine.session.simple_lines import cut_text, raw_text, simple_table

TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters='"\\'))
NUMBER = st.from_regex(r"-?[0-9]{1,19}(\.[0-9]{1,25})?(e[+-]?[0-9]{1,3})?", fullmatch=True)
SAID = st.one_of(
    TEXT.map(lambda text: f'"{text}"'),
    NUMBER,
    st.sampled_from(["true", "false", "[]", '"a \\"b\\""', '"\\u00e9"', "01", "-0", "-0.0", "1e400", "9" * 19, "00.5"]),
    st.lists(TEXT, min_size=1, max_size=3).map(lambda items: "[\n" + "".join(f'    "{i}",\n' for i in items) + "]"),
)
LINES = st.lists(st.tuples(st.from_regex(r"[A-Za-z0-9_-]{1,8}", fullmatch=True), SAID), max_size=6)


def lines_of(pairs):
    return "".join(f"{key} = {said}\n" for key, said in pairs).encode()


def as_toml(body):
    """What the library's slow reader says; None where it refuses, or a log may not hold what it says."""
    try:
        table = tomllib.loads(body.decode())
    except ValueError:
        return None
    return table if all(block._fits(value) for value in table.values()) else None


@given(LINES)
@example([("n", "01")])
@example([("n", "1"), ("n", "2")])
@example([("x", "1e400")])
@example([("x", "9" * 19)])
@example([("x", '"a = b"')])
@example([("x", "\"['''\""), ("y", '""')])
def test_simple_lines_are_read_as_toml_or_not_at_all(pairs):
    body = lines_of(pairs)
    read = simple_table(body)
    assert read is None or repr(read) == repr(as_toml(body))


@given(LINES)
def test_a_block_says_the_same_with_and_without_the_reader_of_simple_lines(pairs):
    body = block.EVENT_LINE + lines_of(pairs)
    wanted = as_toml(lines_of(pairs))
    try:
        read = decode_event(body)
    except Unreadable:
        read = None
    if wanted is not None:
        wanted.pop("more", None)
    assert repr(read) == repr(None if wanted is None or "digest" in wanted else wanted)


def test_simple_lines_with_nothing_to_escape_are_not_left_to_the_slow_reader():
    body = b'event = "reading"\nn = 3\nmono = 12.5\nyes = true\nended = []\nparts = [\n    "lug",\n    "boot",\n]\n'
    assert simple_table(body) == as_toml(body)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "one line\n",
        'says = """\nprocedure_text = \'\'\'\n"""\n',
        "it's ''here''\n",
        "ends in an apostrophe'",
        "three ''' of them\n",
        "a line end\r\nof another kind\n",
    ],
)
@pytest.mark.parametrize("asset", ["Boat", "\nprocedure_text = '''\n", 'x\nprocedure_text = """\n', "\n'''\n"])
def test_a_header_with_a_long_text_reads_as_toml_says(text, asset):
    data = encode_header({"asset": asset, "note": "two\nlines", "procedure_text": text})
    body = data[: data.rfind(b'digest = "')]
    assert decode_header(body) == tomllib.loads(body.decode())["session"]


def test_a_text_in_the_middle_of_another_text_is_not_taken_for_the_procedures():
    inner = b'note = """\nprocedure_text = \'\'\'\nnot the procedure\n"""\n'
    body = block.FIRST_LINE + b"[session]\nformat = 2\n" + inner + b"other = '''\nlast\n'''\n"
    assert decode_header(body) == tomllib.loads(body.decode())["session"]


def test_the_procedures_text_given_twice_is_refused():
    line = b"procedure_text = '''\nid = 1\n'''\n"
    body = block.FIRST_LINE + b"[session]\nformat = 2\n" + line + line
    with pytest.raises(Unreadable):
        decode_header(body)


def test_a_text_that_an_editor_could_not_show_is_left_to_the_slow_reader():
    assert raw_text(b"bell \x07") is None
    assert raw_text(b"half a character \xc3") is None
    assert cut_text(b"[session]\nformat = 2\n") is None
