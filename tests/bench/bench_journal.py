"""Measures the journal against its bases, interleaved in one run: ``python tests/bench/bench_journal.py``.

Counted or held to a limit: writes and syncs of an entry, encoding against tomli_w alone, growth of the scan. Only
shown: an entry against a raw write and sync of the same bytes (a fast disk makes the fixed cost look large), readers.
"""

import os
import statistics
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import tomli
import tomli_w

from engine.session.block import encode_event, encode_header, root
from engine.session.chain import follow
from engine.session.disk_posix import PosixDisk
from engine.session.journal import Journal
from engine.session.scan import scan

MOST_ENCODING = 1.3
MOST_GROWTH = 11.0
HEAD = "0" * 64
Pick = Callable[[list[float]], float]
EVENT = {
    "event": "finding",
    "n": 12,
    "at": "2025-06-01T09:00:20Z",
    "mono": 20.125,
    "step": "measure-drop",
    "key": "voltage-drop",
    "check": "voltage-drop",
    "verdict": "pass",
    "sentence": "0.31 V are lost of 0.72 V allowed (3 % of 24 V)",
    "values": ["drop_v = 0.31", "length_m = 6.0"],
    "limits": ["drop at most 0.72 V"],
    "profile": "house",
    "firm": False,
    "remedy": "",
}
HEADER = {"procedure": "[[step]]\nid = 'a'\ntitle = \"Measure the drop\"\n\n" * 150}


class CountingDisk(PosixDisk):
    """The real disk, with writes and syncs counted."""

    writes = 0
    syncs = 0

    def write(self, handle: int, data: bytes) -> int:
        self.writes += 1
        return super().write(handle, data)

    def sync(self, handle: int) -> None:
        self.syncs += 1
        super().sync(handle)


def main() -> int:
    held = [calls_for_one_entry(), encoding_against_tomli_w(), growth_of_the_scan()]
    entry_against_raw_write()
    readers()
    return 0 if all(held) else 1


def calls_for_one_entry() -> bool:
    disk = CountingDisk()
    with tempfile.TemporaryDirectory() as folder, Journal.create(Path(folder), "boat", HEADER, disk=disk) as journal:
        before = disk.writes, disk.syncs
        for _ in range(100):
            journal.append([EVENT])
        writes, syncs = disk.writes - before[0], disk.syncs - before[1]
    return say("100 entries", f"{writes} writes, {syncs} syncs", held=writes == syncs == 100)


def encoding_against_tomli_w() -> bool:
    alone, ours = side_by_side(lambda: tomli_w.dumps(EVENT), lambda: encode_event(EVENT, HEAD), times=3000)
    text = f"{ours / alone:.2f} of tomli_w alone, at most {MOST_ENCODING} ({ours:.0f} and {alone:.0f} us)"
    return say("encoding", text, held=ours / alone <= MOST_ENCODING)


def growth_of_the_scan() -> bool:
    small, large = log_of(1000), log_of(10_000)
    less, more = side_by_side(lambda: scan(small), lambda: scan(large), times=9, pick=min)
    text = f"10,000 events cost {more / less:.1f} times 1,000, at most {MOST_GROWTH}"
    return say("scan", text, held=more / less <= MOST_GROWTH)


def entry_against_raw_write() -> None:
    block = encode_event(EVENT, HEAD)[0]
    with tempfile.TemporaryDirectory() as folder, Journal.create(Path(folder), "boat", HEADER) as journal:
        handle = os.open(Path(folder) / "raw", os.O_WRONLY | os.O_CREAT | os.O_APPEND)

        def raw() -> None:
            os.write(handle, block)
            os.fsync(handle)

        alone, ours = side_by_side(raw, lambda: journal.append([EVENT]), times=600)
        os.close(handle)
    say("entry", f"{ours / alone:.2f} of a raw write and sync ({ours:.0f} and {alone:.0f} us)")


def readers() -> None:
    data = log_of(60)
    text = data.decode()
    ours, chain = side_by_side(lambda: scan(data), lambda: follow(data), times=60)
    fast, standard = side_by_side(lambda: tomli.loads(text), lambda: tomllib.loads(text), times=60)
    say("60 events", f"{len(data)} bytes; scan {ours:.0f} us, of it the chain {chain:.0f} us")
    say("60 events", f"tomli {fast:.0f} us, tomllib {standard:.0f} us; scan is {ours / standard:.2f} of tomllib")


def log_of(events: int) -> bytes:
    parts = [encode_header(HEADER)]
    head = root(parts[0])
    for number in range(events):
        block, head = encode_event({**EVENT, "n": number}, head)
        parts.append(block)
    return b"".join(parts)


def side_by_side(
    base: Callable[[], object], ours: Callable[[], object], times: int, pick: Pick = statistics.median
) -> tuple[float, float]:
    """Return the median (or what ``pick`` says) of each [us], measured in turns so that a busy machine slows both."""
    spent: tuple[list[float], list[float]] = ([], [])
    for _ in range(times):
        for call, kept in zip((base, ours), spent, strict=True):
            start = time.perf_counter()
            call()
            kept.append(time.perf_counter() - start)
    return pick(spent[0]) * 1e6, pick(spent[1]) * 1e6


def say(what: str, text: str, *, held: bool = True) -> bool:
    sys.stdout.write(f"{'ok  ' if held else 'MISS'} {what}: {text}\n")
    return held


if __name__ == "__main__":
    sys.exit(main())
