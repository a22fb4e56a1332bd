"""One block: any flat table comes back as it was, and the raw text is harmless and readable."""

import tomllib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from engine.session.block import (
    Unwritable,
    begins_event,
    decode_event,
    decode_header,
    encode_event,
    encode_header,
    root,
    seal,
    seal_line,
)
from engine.session.scan import scan

ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]))
VALUES = st.one_of(
    ANY_TEXT,
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False, allow_infinity=False),
    st.lists(ANY_TEXT, max_size=4),
)
KEYS = st.from_regex(r"[A-Za-z0-9_-]{1,64}", fullmatch=True).filter(lambda key: key not in ("digest", "more", "format"))
TABLES = st.dictionaries(KEYS, VALUES, max_size=6)
LONG_TEXT = st.lists(st.sampled_from(["a", "'", "''", "'''", '"', '"""', "\\", "\t", "\r", "\n", "\n\n", "\0", "\u202e",
                                      "[[event]]\n", 'digest = "', "\ndigest = ", "Ω"])).map("".join)  # fmt: skip
HEAD = "0" * 64


def body(block: bytes) -> bytes:
    return block[: block.rfind(b'digest = "')]


def exactly(table):
    """Tell 1 from 1.0 and True, and 0.0 from -0.0."""
    return repr(table)


@given(TABLES)
@example({"a": -0.0, "b": 5e-324, "c": 1.7976931348623157e308, "d": 1e16, "e": 0.00012345678901234567})
@example({"a": "\u0085\u2028\u2029\x1b[31m\x7f\xad\ufeff\U000e0041"})
def test_any_event_comes_back_as_it_was(event):
    block, _ = encode_event(event, HEAD)
    assert exactly(decode_event(body(block))) == exactly(event)


@given(st.lists(TABLES, max_size=5), TABLES)
def test_any_log_is_whole_and_reads_the_same_in_any_reader_of_toml(events, header):
    data = encode_header(header)
    head = root(data)
    for event in events:
        block, head = encode_event(event, head)
        data += block
    found, read = scan(data), tomllib.loads(data.decode())
    assert (found.state, found.head) == ("whole", head)
    assert exactly(found.events) == exactly(events)
    plain = [{key: value for key, value in event.items() if key != "digest"} for event in read.get("event", [])]
    assert exactly(plain) == exactly(events)


@given(TABLES, st.dictionaries(KEYS, LONG_TEXT, max_size=3))
def test_any_header_comes_back_as_it_was(header, texts):
    data = encode_header({**texts, **header})
    assert exactly(decode_header(body(data))) == exactly({"format": 2, **texts, **header})
    assert scan(data).state == "whole"


@given(LONG_TEXT)
@example('\n[[event]]\n\ndigest = "' + HEAD + '"\n\n')
def test_text_that_looks_like_a_block_never_ends_the_header_early(text):
    data = encode_header({"procedure": text})
    block, head = encode_event({"n": 1}, root(data))
    found = scan(data + block)
    assert (found.state, found.header, found.head) == ("whole", {"format": 2, "procedure": text}, head)


@given(LONG_TEXT)
def test_any_prefix_of_a_header_is_torn(text):
    data = encode_header({"procedure": text})
    assert {scan(data[:end]).state for end in range(len(data))} == {"torn"}


@given(TABLES)
def test_any_prefix_of_an_event_begins_one(event):
    block, _ = encode_event(event, HEAD)
    assert all(begins_event(block[:end]) for end in range(len(block) - 3))
    assert not begins_event(block)


def test_procedure_text_stands_in_the_log_as_it_was_written():
    text = '[procedure]\ntitle = "It\'s on"\n\n# 3/4 of a turn: \\ ok\n'
    assert text.encode() in encode_header({"procedure": text})


def test_text_with_three_quotes_still_stands_on_lines_of_its_own():
    assert b"\na\n" in encode_header({"procedure": "'''\na\n'''\n"})


@pytest.mark.parametrize(
    "character", ["\x1b", "\x7f", "\x00", "\x9b", "\u202e", "\u2066", "\u200b", "\ufeff", "\u2028"]
)
def test_what_steers_a_terminal_or_hides_stands_as_an_escape(character):
    block, _ = encode_event({"text": f"a{character}b", "list": [character]}, HEAD)
    header = encode_header({"long": f"a\n{character}\n", "short": character})
    assert character.encode() not in block
    assert character.encode() not in header


def test_letters_and_signs_of_the_trade_stand_as_they_are():
    block, _ = encode_event({"text": "70 °C, 12 Ω, 3 × 25 mm², æøå, 船"}, HEAD)
    assert "70 °C, 12 Ω, 3 × 25 mm², æøå, 船".encode() in block


def test_a_tuple_of_texts_is_written_as_a_list():
    block, _ = encode_event({"tables": ("a", "b")}, HEAD)
    assert decode_event(body(block)) == {"tables": ["a", "b"]}


def test_order_of_keys_is_kept():
    block, _ = encode_event({"z": 1, "a": 2, "m": 3}, HEAD)
    assert list(decode_event(body(block))) == ["z", "a", "m"]


@pytest.mark.parametrize("key", ["format", "digest"])
def test_the_headers_own_keys_cannot_be_given(key):
    with pytest.raises(Unwritable, match="written by the journal itself"):
        encode_header({key: "2"})


def test_the_digest_depends_on_every_key_and_on_what_stood_before():
    digests = {
        encode_event(event, head)[1] for event in ({"a": 1}, {"a": 2}, {"b": 1}, {}) for head in (HEAD, "1" * 64)
    }
    assert len(digests) == 8


def test_a_block_sealed_with_a_second_digest_line_inside_is_not_vouched_for():
    header = encode_header({"program": "tugtest 0"})
    body = b'[[event]]\nevent = "note"\ndigest = "9d49"\n'
    found = scan(header + body + seal_line(seal(root(header), body)))
    assert found.state == "altered"
    assert 'two lines named "digest"' in found.sentence
    assert found.events == []
