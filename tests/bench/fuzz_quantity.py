"""Fuzzes the reading of typed text, guided by coverage: ``python tests/bench/fuzz_quantity.py SECONDS``.

Ends with status 0 if nothing was found, and with the finding printed if something was. Without atheris it says so and
ends with status 0, so that a machine that lacks it is not held up.
"""

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

with atheris.instrument_imports(include=["engine.quantity"]):
    from engine.quantity import (
        UNITS,
        Amount,
        Fault,
        PinRows,
        Question,
        WireSize,
        read,
        read_pin_map,
        several,
        show,
        slip,
    )

ASKED = (*UNITS, "wire")
LONGEST_BYTES = 128
SEEDS = (
    "24.9",
    '1 5/16"',
    "15 ft 2 in",
    "2/0 AWG",
    "#8",
    "45 in-lb",
    "1,000 mm",
    "OL Mohm",
    "-0.02 VDC",
    "16 mm²",
    "70F",
    "1-1 2-l 3-OL 4-g=0,4",
    "1-left 2-open, 3-3 4-4 1-4=1.2k",
)
NEAR, FAR = ("1", "2", "3", "4"), ("left", "ground", "lamp", "1", "3", "4")

WORDS = (
    *(unit.encode() for unit in UNITS if unit),
    *b"AWG SAE /0 1/2 ft in OL VDC in-lb 1,000 1.234,5 e-3 mm2 kcmil \xc2\xb2 \xc2\xb0C \xce\xa9 \xc2\xb5".split(),
    *(b"N m", b"; ", b"\xe2\x88\x92", b"\xef\xbc\x91", b"\xd9\xa1", b"=1.2k", b"2-open", b" 3-3"),
)


def one_input(data: bytes) -> None:
    """Read one text in one unit; two bits of the first byte say whether over range and a sign belong to it."""
    provider = atheris.FuzzedDataProvider(data)
    asked = ASKED[provider.ConsumeIntInRange(0, len(ASKED) - 1)]
    over_range, signed = provider.ConsumeBool(), provider.ConsumeBool()
    as_bytes = provider.ConsumeBytes(LONGEST_BYTES)
    for text in (as_bytes.decode("utf-8", "replace"), as_bytes.decode("latin-1")):
        judge(text, asked, over_range=over_range, signed=signed)
        assert isinstance(several(text, asked, "V"), tuple | Fault), text
        judge_map(text)


def judge(text: str, asked: str, *, over_range: bool, signed: bool) -> None:
    meant = read(text, asked, over_range=over_range, signed=signed)
    if isinstance(meant, Fault):
        assert 0 <= meant.column <= len(meant.raw), text
        assert meant.sentence.isprintable(), text
        return
    assert len(text) <= 40, text
    assert meant.raw == text, text
    if isinstance(meant, Question):
        assert meant.choices, text
    if isinstance(meant, WireSize):
        assert read(meant.label, "wire") == WireSize(meant.label, meant.system, meant.label), text
    if isinstance(meant, Amount):
        assert show(meant.number, meant.unit, step=meant.step).isascii(), text
        slip(meant, (1.0, 2.0), (0.0, 10.0), asked)


def judge_map(text: str) -> None:
    """Read one text as a pin map: a row for each position and the same map from its own spelling, or a fault."""
    meant = read_pin_map(text, NEAR, FAR)
    if isinstance(meant, Fault):
        assert 0 <= meant.column <= len(meant.raw), text
        assert meant.sentence.isprintable(), text
        return
    again = read_pin_map(meant.label, NEAR, FAR, 2000)
    assert isinstance(again, PinRows), text
    assert (again.near, again.label) == (NEAR, meant.label), text


def seeds() -> Iterator[bytes]:
    """Yield the first inputs to try, for each of a few units."""
    for seed in SEEDS:
        for unit in range(0, len(ASKED), 5):
            # the provider takes numbers from the end: unit and two flags stand behind the text
            yield seed.encode() + bytes([0, 1, unit])


if __name__ == "__main__":
    fuzz(one_input, seeds(), WORDS, LONGEST_BYTES // 2)
