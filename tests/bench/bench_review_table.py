"""The review's table of many logs through a real pseudo-terminal: index read to first rows, key to repaint, memory.

Run from the checkout: ``python -m tests.bench.bench_review_table [COUNT]``. The lines are made up and stand for what an
index gives; that they were made is told by a file, and everything after it is measured. Keys are timed twice: while
the logs are compared with each other in the background, and after. Figures of one run beside those of a bare app.
"""

import os
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.bench_screens import BARE, FIRST, _one
from tests.tui.terminal import Terminal

PROGRAM = """
import random, sys, time
from pathlib import Path
import engine.review.desk as room
from engine.review.folder import Look
from engine.review.index import Index
from engine.review.kept import Packed, values_json
from engine.review.row import LogRow
from engine.review.values import Measured
from tui.review_app import ReviewApp
from engine.review.desk import Desk

place, count = Path(sys.argv[1]), COUNT
number = random.Random(1)
rows = tuple(
    LogRow(name=f"log-{n:06d}.toml", sha256=f"{n:064x}", chain="whole", procedure=f"own-{n % 8}", revision="1",
           procedure_sha256="1", person=f"Person {n % 997}", asset=f"Boat {n}", head=f"{n:08x}", ended="closed",
           complete=True, clean=n % 3 > 0, trusted=n % 50 > 0, fails=n % 7, undecided=n % 5, asked=90,
           given=80 + n % 10, on_task_s=60.0 * n, bad_steps=("dead",),
           first_bad="" if n % 3 else "prove-dead: fail: 12.4 V is not dead")
    for n in range(count)
)
room.index_path = lambda: place / "index.sqlite"
with Index(room.index_path()) as index:
    index.keep(
        Packed(r.sha256, "", 1, False, "[]",
               values_json(tuple(Measured(f"e{k}", 12 + number.gauss(0, 0.3), 0.01, "V") for k in range(12))), "[]")
        for r in rows
    )

def looked(*_, **__):
    (place / "read").write_text(f"{time.perf_counter()} {time.process_time()}")
    return Look(rows, 0, len(rows))

room.look = looked
plain = Desk.compare

def compared(self, *told):
    plain(self, *told)
    (place / "compared").touch()

Desk.compare = compared
app = ReviewApp(Desk(place))
app.run()
"""
RUNS = 5
KEYS = 30
MOST_OPENING_MS = 300.0
MOST_KEY_MS = 40.0
"""Most time from the index being read to the first rows, and from a key to its repaint [ms]; project goals."""

ROW = re.compile(rb"log-\d{6}")


def main() -> int:
    """Measure, print one line each, and return 0 if all are as they should be."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    program = PROGRAM.replace("COUNT", str(count))
    opened = [_opening(program) for _ in range(RUNS)]
    good = [_shown(f"index of {count} logs read, to its first rows", [wall for wall, _ in opened], MOST_OPENING_MS)]
    sys.stdout.write(f"  of that, work of the program: {statistics.median(work for _, work in opened):.0f} ms\n")
    for name, times in _keys(program).items():
        good.append(_shown(name, times, MOST_KEY_MS))
    return int(not all(good))


def _opening(program: str) -> tuple[float, float]:
    """Return the time from the index being read to the first rows on the terminal, and the work in it [ms]."""
    with tempfile.TemporaryDirectory() as place:
        terminal = Terminal(Path(place), program, (120, 40))
        _until_row(terminal)
        painted, worked = time.perf_counter(), _worked_s(terminal.process.pid)
        terminal.close()
        read, worked_before = map(float, (Path(place) / "read").read_text(encoding="ascii").split())
        return (painted - read) * 1000, (worked - worked_before) * 1000


def _worked_s(pid: int) -> float:
    """Return the processor's time that a process has used [s]."""
    told = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def _keys(program: str) -> dict[str, list[float]]:
    with tempfile.TemporaryDirectory() as place, tempfile.TemporaryDirectory() as other:
        terminal = Terminal(Path(place), program, (120, 40))
        _until_row(terminal)
        meanwhile = _moves(terminal)
        if (Path(place) / "compared").exists():
            sys.stdout.write("  (the comparing ended before the keys did)\n")
        while not (Path(place) / "compared").exists():
            terminal.read(0.1)
        time.sleep(1.0)
        terminal.read(0.2)
        after = _moves(terminal)
        status = Path(f"/proc/{terminal.process.pid}/status").read_text(encoding="ascii")
        terminal.close()
        bare = Terminal(Path(other), BARE, (120, 40))
        bare.until(FIRST)
        time.sleep(1.0)
        base = Path(f"/proc/{bare.process.pid}/status").read_text(encoding="ascii")
        bare.close()
    ours, theirs = (_resident_kb(told) for told in (status, base))
    sys.stdout.write(f"memory with the table: {ours // 1024} MiB, a bare app {theirs // 1024} MiB\n")
    return {f"{name}, while comparing": times for name, times in meanwhile.items()} | after


def _resident_kb(status: str) -> int:
    return int(re.search(r"VmRSS:\s+(\d+)", status).group(1))  # type: ignore[union-attr]


def _moves(terminal: Terminal) -> dict[str, list[float]]:
    """Return key to last byte of its repaint [ms]."""
    keys = {"a line down": b"\x1b[B", "a page down": b"\x1b[6~"}
    times = {name: [_one(terminal, key) for _ in range(KEYS)] for name, key in keys.items()}
    ends = [_one(terminal, key) for _ in range(KEYS // 4) for key in (b"\x1b[F", b"\x1b[H")]
    return {**times, "the last line, the first": ends}


def _until_row(terminal: Terminal) -> None:
    end = time.monotonic() + 60
    while not ROW.search(terminal.out):
        assert time.monotonic() < end, terminal.out[-2000:]
        terminal.read(0.1)


def _shown(what: str, times: list[float], most: float) -> bool:
    times = sorted(times)
    middle, p95 = statistics.median(times), times[max(0, int(len(times) * 0.95) - 1)]
    good = p95 <= most
    sys.stdout.write(f"{'  ' if good else 'x '}{what}: p50 {middle:.0f} ms, p95 {p95:.0f} ms (at most {most:g})\n")
    return good


if __name__ == "__main__":
    sys.exit(main())
