"""What the scan says of any bytes: every prefix, every changed byte, every misplaced block, hostile input."""

import itertools
import os
import tomllib
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.session import scan as scan_module
from engine.session.block import EVENT_LINE, FIRST_LINE, encode_event, encode_header, root, seal_line
from engine.session.scan import read_log, scan, short_head
from tests.session.journal_fakes import EVENTS, HEADER, blocks, sample

DATA = sample()
BLOCKS = blocks()
ENDS = list(itertools.accumulate(len(block) for block in BLOCKS))


def test_a_whole_log_is_whole():
    found = scan(DATA)
    assert (found.state, found.at, found.byte, found.good_bytes) == ("whole", None, None, len(DATA))
    assert found.sentence == "whole, 4 events"


def test_any_reader_of_toml_reads_the_same():
    read = tomllib.loads(DATA.decode())
    assert read["session"].pop("digest")
    assert read["session"] == {"format": 2, **HEADER}
    assert [{key: value for key, value in event.items() if key != "digest"} for event in read["event"]] == list(EVENTS)


def test_the_file_is_toml_after_every_block():
    assert [len(tomllib.loads(DATA[:end].decode()).get("event", [])) for end in ENDS] == [0, 1, 2, 3, 4]


def test_the_chain_can_be_recomputed_with_nothing_but_sha_256():
    head = sha256(BLOCKS[0]).hexdigest()
    for block in BLOCKS[1:]:
        body = block[: block.rfind(b"digest")]
        head = sha256(head.encode() + body).hexdigest()
    assert head == scan(DATA).head == tomllib.loads(DATA.decode())["event"][-1]["digest"]


def test_every_prefix_keeps_its_full_blocks_and_is_never_called_altered():
    for end in range(len(DATA)):
        found = scan(DATA[:end])
        complete = sum(end >= block_end - 2 for block_end in ENDS[1:])
        assert found.state == ("whole" if end in ENDS else "torn"), end
        assert found.events == list(EVENTS[:complete]), end


@pytest.mark.parametrize("zeros", [1, 511, 4096])
def test_zeros_at_the_tail_are_a_torn_tail(zeros):
    for end in [*ENDS, *(middle - 40 for middle in ENDS), *(middle - 1 for middle in ENDS), 0, 3]:
        found = scan(DATA[:end] + bytes(zeros))
        complete = sum(end >= block_end - 2 for block_end in ENDS[1:])
        assert (found.state, found.events) == ("torn", list(EVENTS[:complete]))


@pytest.mark.parametrize("block", range(len(BLOCKS)))
def test_every_changed_byte_is_found_and_its_block_is_named(block):
    for position in range(ENDS[block] - len(BLOCKS[block]), ENDS[block]):
        for value in {DATA[position] ^ (1 << bit) for bit in range(8)} | {9, 10, 34, 48, 255} - {DATA[position]}:
            found = scan(DATA[:position] + bytes([value]) + DATA[position + 1 :])
            assert found.state in ("altered", "edited"), (position, value)
            if found.state == "altered":
                assert (found.at, found.events) == (block, list(EVENTS[: max(block - 1, 0)])), (position, value)


def test_a_changed_value_is_never_called_an_editors_touch():
    inside = (position for position in range(len(DATA)) if DATA[position] not in b" \t\n#")
    for position in inside:
        for value in (ord("#"), ord(" "), ord("\n"), ord("\t"), ord("\r")):
            found = scan(DATA[:position] + bytes([value]) + DATA[position + 1 :])
            assert found.state == "altered", (position, value)


def test_every_removed_and_every_doubled_byte_is_found():
    for position in range(len(DATA) - 1):
        removed, doubled = DATA[:position] + DATA[position + 1 :], DATA[: position + 1] + DATA[position:]
        states = {scan(changed).state for changed in (removed, doubled) if not DATA.startswith(changed)}
        assert states <= {"altered", "edited"}, position


def test_swapped_blocks_are_found_and_their_place_is_named():
    first, second = BLOCKS[2], BLOCKS[3]
    found = scan(b"".join([*BLOCKS[:2], second, first, BLOCKS[4]]))
    assert (found.state, found.at, found.byte) == ("altered", 2, ENDS[1])
    assert "event 2, at byte" in found.sentence
    assert "stands in the wrong place: it was written after event 3" in found.sentence


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_removed_block_is_found(number):
    found = scan(b"".join(BLOCKS[:number] + BLOCKS[number + 1 :]))
    assert (found.state, found.at) == ("altered", number)
    assert "or something before it was taken out" in found.sentence


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_repeated_block_is_found(number):
    found = scan(b"".join([*BLOCKS[: number + 1], BLOCKS[number], *BLOCKS[number + 1 :]]))
    assert (found.state, found.at) == ("altered", number + 1)
    place = f"event {number - 1}" if number > 1 else "the header"
    assert f"it was written after {place}" in found.sentence


def test_a_block_of_another_session_is_found():
    other = blocks(header={**HEADER, "program": "tugtest 1"})
    found = scan(b"".join([*BLOCKS[:3], other[3], BLOCKS[4]]))
    assert (found.state, found.at) == ("altered", 3)


def test_a_header_of_another_session_is_found():
    other = blocks(header={**HEADER, "program": "tugtest 1"})
    found = scan(b"".join([other[0], *BLOCKS[1:]]))
    assert (found.state, found.at, found.events) == ("altered", 1, [])


def test_last_blocks_cut_off_leave_another_head():
    assert scan(b"".join(BLOCKS[:-1])).head != scan(DATA).head


def test_the_head_after_each_event_is_given():
    found = scan(DATA)
    assert found.heads == [scan(DATA[:end]).head for end in ENDS]


@pytest.mark.parametrize(
    ("touch", "says"),
    [
        (lambda data: data.replace(b"\n", b"\r\n"), "the line ends were changed to CRLF"),
        (lambda data: b"\xef\xbb\xbf" + data, "a byte order mark was put in front"),
        (lambda data: b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n"), "the line ends were changed to CRLF"),
        (lambda data: data + b"\n", "blank lines, spaces or comments were added"),
        (lambda data: data + b"# seen, J.\n", "blank lines, spaces or comments were added"),
        (lambda data: b"# boat 7\n" + data, "blank lines, spaces or comments were added"),
        (lambda data: data.replace(b"\n[[event]]", b"\n# next\n[[event]]"), "blank lines, spaces or comments"),
        (lambda data: data.replace(b"\nn = 2\n", b"\nn = 2   \n"), "blank lines, spaces or comments were added"),
        (lambda data: data.replace(b'"\n\n[[', b'"\n[['), "blank lines, spaces or comments were added"),
        (lambda data: data.decode().encode("utf-16"), "it was saved as UTF-16"),
        (lambda data: data[:-2].replace(b"\n", b"\r\n"), "the line ends were changed to CRLF"),
    ],
)
def test_an_editors_harmless_touch_is_told_apart_from_tampering(touch, says):
    found = scan(touch(DATA))
    assert found.state == "edited"
    assert says in found.sentence
    assert "no value was changed" in found.sentence
    assert (found.events, found.head) == (list(EVENTS), scan(DATA).head)


@pytest.mark.parametrize("touch", [lambda data: data.replace(b"\n", b"\r\n"), lambda data: data + b"\n"])
def test_an_editors_touch_does_not_hide_a_changed_value(touch):
    found = scan(touch(DATA.replace(b"12.4", b"12.6")))
    assert (found.state, found.at, found.events) == ("altered", 2, [EVENTS[0]])


def test_a_changed_value_under_an_editors_touch_is_named_with_both():
    found = scan(DATA.replace(b"12.4", b"12.6").replace(b"\n", b"\r\n"))
    assert "event 2, at byte" in found.sentence
    assert found.sentence.endswith("besides, the line ends were changed to CRLF")


def resealed(*bodies: bytes) -> bytes:
    """A log whose chain holds and whose blocks are not of our writer's making: anybody can compute a digest."""
    data = encode_header({})
    head = root(data)
    for body in bodies:
        head = sha256(head.encode() + body).hexdigest()
        data += body + seal_line(head)
    return data


@pytest.mark.parametrize(
    "lines",
    [
        b"n = 1e400\n",
        b"n = inf\n",
        b"n = nan\n",
        b"n = 9223372036854775808\n",
        b"n = " + b"9" * 5000 + b"\n",
        b"n = 01\n",
        b"n = 1\nn = 2\n",
        b"a.b = 1\n",
        b".".join([b"a"] * 20_000) + b" = 1\n",
        b"n = " + b"[" * 20_000 + b"]" * 20_000 + b"\n",
        b"n = {a = 1}\n",
        b"n = 2025-06-01\n",
        b"n = [1, 2]\n",
        b"n = 'a'\n",
        b'n = "a\xff"\n',
        b'n = "a\x00"\n',
        b'n = "\x1b[2J"\n',
        b'n = "\\ud800"\n',
        b'n = "\\e"\n',
        b"[other]\nn = 1\n",
        b"[[event]]\nn = 1\n",
        b"k" * 65 + b" = 1\n",
        b"hello\n",
        b"n = 1 # remark\n",
    ],
)
def test_a_sealed_block_that_our_writer_never_makes_is_refused(lines):
    found = scan(resealed(EVENT_LINE + b"n = 1\n", EVENT_LINE + lines))
    assert (found.state, found.at, found.events) == ("altered", 2, [{"n": 1}])
    assert "event 2, at byte" in found.sentence
    assert "was not written by this program" in found.sentence
    assert len(found.sentence) < 300


@pytest.mark.parametrize("lines", [b"a.b = 1\n", b"a = 'x'\n", b"a = 1979-05-27\n", b"[other]\n", b"format = 3\n"])
def test_a_sealed_header_that_our_writer_never_makes_is_refused(lines):
    body = FIRST_LINE + b"[session]\nformat = 2\n" + lines
    found = scan(body + seal_line(sha256(body).hexdigest()))
    assert (found.state, found.at, found.header) == ("altered", 0, None)


@pytest.mark.parametrize("event", [b'a = "b"\n', b"new = 2025-06-01\n"])
def test_a_newer_format_is_only_read(event):
    body = encode_header({}).replace(b"format = 2", b"format = 3").partition(b"\ndigest")[0] + b"\n"
    data = body + seal_line(sha256(body).hexdigest())
    body = EVENT_LINE + event
    data += body + seal_line(sha256(root(data).encode() + body).hexdigest())
    found = scan(data)
    assert found.state == "newer"
    assert "in format 3; this one reads format 2" in found.sentence
    assert found.header == {"format": 3}


@pytest.mark.parametrize(
    "data",
    [b"\n", b"hello", b"a = 1\n", b"[session]", b"\xff" * 100, b"PK\x03\x04", b'digest = "\n', b'\ndigest = "0"\n\n'],
)
def test_other_files_are_not_a_log(data):
    found = scan(data)
    assert (found.state, found.header, found.events, found.head) == ("not a log", None, [], "")


def test_a_log_without_any_digest_is_altered():
    found = scan(b"".join(block[: block.rfind(b"digest")] + b"\n" for block in BLOCKS))
    assert (found.state, found.at) == ("altered", 0)


def test_a_file_beyond_the_limit_is_not_read(monkeypatch):
    monkeypatch.setattr(scan_module, "MAX_BYTES", len(DATA) - 1)
    found = scan(DATA)
    assert (found.state, found.events) == ("not a log", [])
    assert "larger than" in found.sentence


@pytest.mark.parametrize(
    "data",
    [
        bytes(8_000_000),
        b"\n" * 8_000_000,
        DATA + b"\n" * 8_000_000,
        DATA + EVENT_LINE + b"a = 1\n" * 1_000_000,
        DATA + EVENT_LINE + b"a = [\n" + b'    "x",\n' * 500_000,
        DATA + b'[[event]]\na = "' + b"\\" * 8_000_001,
        DATA + b'[[event]]\ndigest = "\n\n' * 300_000,
        BLOCKS[0] + BLOCKS[2] * 10_000,
        b"[session]\n" + b"'" * 8_000_000 + b'\ndigest = "',
    ],
    ids=range(9),
)
def test_megabytes_of_nonsense_are_judged_without_a_crash(data):
    assert scan(data).state in ("torn", "altered", "not a log")


@given(st.binary(max_size=400))
def test_no_bytes_make_the_scan_raise(data):
    assert scan(data).sentence
    assert scan(DATA + data).sentence
    assert scan(BLOCKS[0] + data).sentence


@given(st.lists(st.sampled_from([*BLOCKS, b"\n", b"[[event]]\n", b'digest = "', b"\0", b"\r\n"]), max_size=8))
def test_no_order_of_pieces_passes_for_whole_but_the_written_one(pieces):
    data = b"".join(pieces)
    assert (scan(data).state == "whole") == (data in [DATA[:end] for end in ENDS])


def test_reading_says_what_is_not_a_plain_file(tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "to_pipe.toml").symlink_to(tmp_path / "pipe.toml")
    (tmp_path / "to_itself.toml").symlink_to(tmp_path / "to_itself.toml")
    for path in (tmp_path, tmp_path / "pipe.toml", tmp_path / "to_pipe.toml"):
        assert read_log(path).sentence == "it cannot be read: it is a folder, pipe or device, not a file"
    assert read_log(tmp_path / "to_itself.toml").sentence == "it cannot be read: too many levels of symbolic links"
    assert read_log(tmp_path / "none.toml").sentence == "it cannot be read: no such file or directory"
    assert read_log(tmp_path / "a\0b.toml").state == "not a log"


def test_a_pipe_put_in_place_of_a_file_while_it_is_opened_is_not_read(tmp_path, monkeypatch):
    (tmp_path / "plain").write_bytes(b"")
    plain = (tmp_path / "plain").stat()
    os.mkfifo(tmp_path / "boat.toml")
    monkeypatch.setattr(Path, "stat", lambda *_, **__: plain)
    assert "not a file" in read_log(tmp_path / "boat.toml").sentence


def test_a_link_to_a_log_is_followed(tmp_path):
    (tmp_path / "boat.toml").write_bytes(DATA)
    (tmp_path / "link.toml").symlink_to("boat.toml")
    assert read_log(tmp_path / "link.toml").state == "whole"


def test_a_file_too_large_is_not_read_into_memory(tmp_path):
    with (tmp_path / "huge.toml").open("wb") as file:
        file.truncate(1 << 40)
    assert "larger than 64 MB" in read_log(tmp_path / "huge.toml").sentence


def test_a_head_for_paper_is_four_groups_of_four():
    head = scan(DATA).head
    assert short_head(head).replace("-", "") == head[:16]
    assert [len(group) for group in short_head(head).split("-")] == [4, 4, 4, 4]


def test_an_entry_of_several_blocks_without_its_last_is_torn():
    half, _ = encode_event({"n": 5}, scan(DATA).head, more=True)
    found = scan(DATA + half)
    assert (found.state, found.at, found.events, found.good_bytes) == ("torn", 5, list(EVENTS), len(DATA))
