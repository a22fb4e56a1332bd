"""Fuzzes procedure files and limits, guided by coverage: ``python tests/bench/fuzz_procedure.py SECONDS``.

Ends with status 0 if nothing was found, and with the finding printed if something was. Without atheris it says so and
ends with status 0, so that a machine that lacks it is not held up.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.bench.fuzzing import fuzz

try:
    import atheris
except ImportError:
    sys.stdout.write("atheris is not installed: nothing was fuzzed\n")
    sys.exit(0)

with atheris.instrument_imports(include=["engine.procedure"]):
    from engine.procedure.limit import Expression, LimitFault, parse
    from engine.procedure.lint import lint_text
    from engine.procedure.load import ProcedureFaults, load_text, read_logged

from tests.procedure.small import SMALL, blocks

LONGEST_BYTES = 220
WORDS = (
    *(word.encode() for word in sorted(set(re.findall(r"[a-z_]{2,}|[^ a-z_]{2,}", SMALL)))),
    *b"and or not abs( max( min( >= <= == != mohm degF yes/no read. fact. check. limit. warn. parts. mend.".split(),
    *(b"\n[[section.step]]\n", b'\nborrow = "', b"\nfill_each = [{ ", b'when = "', b'hold = "firm"\n', b" = { "),
    *(b'lasts = "10 min"\n', b'takes = "1 h"\n', b'good = ["', b'stop = ["', b'needs = ["', b'works = ["'),
)
UNITS = {
    "a": "V",
    "b": "mV",
    "c": "A",
    "t": "degC",
    "n": "",
    "p": "%",
    "yes": "yes/no",
    "wire": "wire",
    "kind": "choice",
}
VALUES = {"a": 1.0, "b": 0.5, "c": 2.0, "t": 20.0, "n": 3.0, "p": 4.0, "yes": True, "wire": "8 AWG", "kind": "lead"}
LIMITS = (
    "a - b >= 10 % * max(a, 2 V)",
    'yes == "no" or abs(a / c) < 20 mohm',
    '1 degC <= t <= 40 degF and not (kind != "lead")',
    'wire == "#8" and (n + 1) * 2 > 3',
)


def read_or_refused(text: str) -> Expression | LimitFault:
    """Return what a limit is, or the one fault that may come out."""
    try:
        return parse(text, UNITS, {"kind": ("lead",)})
    except LimitFault as refused:
        return refused


def limit(text: str) -> None:
    """Read a limit, judge it, say it: nothing but its own fault may come out."""
    found = read_or_refused(text)
    if isinstance(found, LimitFault):
        assert found.sentence.isprintable(), text
        assert 0 <= found.column <= len(text), text
        return
    assert found.holds(VALUES) in (True, False, None), text
    assert found.says(VALUES).isprintable(), text
    found.over({})


def procedure(text: str) -> None:
    """Load a file and lint it: nothing but its own faults may come out, and what loads loads again from its text."""
    report = lint_text(text, "fuzz.toml", blocks)
    assert all(line.isprintable() for line in report.lines()), text
    try:
        found = load_text(text, "fuzz.toml", block_reader=blocks)
    except ProcedureFaults:
        return
    assert read_logged(found.text) == found, text


def one_input(data: bytes) -> None:
    """Try one input: a limit, or the small procedure with a piece of it replaced."""
    text = data[5:].decode("utf-8", "replace")
    if not data or data[0] % 4:
        limit(text)
        return
    start = int.from_bytes(data[1:3], "big") % len(SMALL)
    procedure(SMALL[:start] + text + SMALL[start + (data[3] if len(data) > 3 else 0) :])


def seeds() -> Iterator[bytes]:
    """Yield the first inputs to try."""
    for text in LIMITS:
        yield b"\x01----" + text.encode()
    for number in range(0, len(SMALL), 97):
        yield bytes([0, *number.to_bytes(2, "big"), 60, 0]) + SMALL[number : number + 60].encode()


if __name__ == "__main__":
    fuzz(one_input, seeds(), WORDS, LONGEST_BYTES)
