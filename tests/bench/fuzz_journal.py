"""Fuzzes the scan of logs, guided by coverage: ``python tests/bench/fuzz_journal.py SECONDS``.

The bytes are judged as they are, behind a sound header, and as a block that is sealed as anybody could seal it. Ends
with status 0 if nothing was found. Without atheris it says so and ends with status 0, so that nobody is held up.
"""

import sys
import tomllib
from hashlib import sha256
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.fuzzing import fuzz

try:
    import atheris
except ImportError:
    sys.stdout.write("atheris is not installed: nothing was fuzzed\n")
    sys.exit(0)

with atheris.instrument_imports(include=["engine.session"]):
    from engine.session.block import encode_event, encode_header, root, seal_line
    from engine.session.scan import scan

LONGEST_BYTES = 1024
HEADER = encode_header({"program": "tugtest 0", "procedure": "[procedure]\ntitle = 'a'\n", "tables": ["a", "b"]})
EVENT, HEAD = encode_event(
    {"event": "reading", "n": 1, "mono": 1.5, "raw": '12,4 "V"', "yes": True, "l": ["a"]}, root(HEADER)
)
SEEDS = (
    HEADER,
    EVENT,
    EVENT[:-77],
    HEADER + EVENT,
    b"[[event]]\nn = 1e400\n",
    b'[[event]]\na = [\n    "x",\n]\n',
    b"\0\0",
    (HEADER + EVENT).replace(b"\n", b"\r\n"),
    b"\xef\xbb\xbf" + HEADER,
    (HEADER + EVENT).decode().encode("utf-16"),
    HEADER.replace(b"format = 2", b"format = 3"),
    b'[[event]]\nevent = "a"\nmore = true\n',
    b'[[event]]\na = "\\"\\u202e"\nb = -1.5e-3\nc = []\nd = true\n',
    EVENT + EVENT,
    EVENT.replace(b"12,4", b"12,5"),
)
WORDS = (
    *(b"[[event]]\n", b"[session]\n", b'digest = "', b"more = true\n", b"format = 2\n", b'event = "', b"n = ", b"\n\n"),
    *(b" = [\n", b'    "', b'",\n', b"]\n", b" = []\n", b"'''\n", b'"""\n', b" = true\n", b" = false\n", b"\r\n"),
    *(b"\\u202e", b"\\U000e0001", b'\\"', b"\xef\xbb\xbf", b"\xff\xfe", b"1e400", b"-0.0", b"1e-9", b"0x1", b"1_0"),
    *(b"nan", b"inf", b"\0" * 64, b"9" * 19, b"2026-05-02", b"procedure_text = '''\n", b"\xe2\x80\xae", b"# "),
)
STATES = {"whole", "torn", "altered", "newer", "edited", "not a log"}


def look(data: bytes) -> None:
    """Fail if the scan raises, answers without a sentence, or vouches for what another reader reads otherwise."""
    for whole in (data, HEADER + data, HEADER + EVENT + data, HEADER + EVENT + sealed(data)):
        found = scan(whole)
        assert found.state in STATES, found.state
        assert 0 < len(found.sentence) < 600
        assert len(found.events) <= whole.replace(b"\0", b"").count(b"[[event]]")
        if found.state == "whole":
            read = tomllib.loads(whole.decode()).get("event", [])
            assert [event | {"digest": ""} for event in found.events] == [bare(event) for event in read]


def sealed(body: bytes) -> bytes:
    return body + seal_line(sha256(HEAD.encode() + body).hexdigest())


def bare(event: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in event.items() if key != "more"} | {"digest": ""}


if __name__ == "__main__":
    fuzz(look, SEEDS, WORDS, LONGEST_BYTES)
