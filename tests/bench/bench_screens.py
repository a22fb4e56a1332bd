"""The screens through a real pseudo-terminal: start, key to repaint, memory, beside a bare app of the library.

Run from the checkout, in an environment without the test extras (the unit library takes numpy in where it finds it):
``python -m tests.bench.bench_screens``. Ratios of one run; the figures of two machines differ.
"""

import os
import re
import statistics
import sys
import tempfile
import time
from pathlib import Path

from tests.tui.terminal import PROGRAM, Terminal

BARE = """
from textual.app import App
from textual.widgets import Input, Label

class Bare(App):
    def compose(self):
        yield Label("Tugtest")
        yield Input()

Bare().run()
"""
DEMO = """
import sys
from tui.cli import main
sys.exit(main(["demo", "--folder", sys.argv[1]]))
"""
HOME = DEMO.replace("demo", "home")
WALKED = """
import sys
from pathlib import Path
from engine.session.clock import SystemClock
from engine.session.commands import Start
from engine.session.runner import Runner
from tests.tui.walker import bow_receptacle, walk
from tui.commands.common import on_screen

def opening():
    job = Runner.start(bow_receptacle(), Start("Grey Heron", "A. B."), Path(sys.argv[1]), SystemClock())
    walk(job, "read-live")
    return job

on_screen(opening)
"""
"""The main job, done up to a step that asks for a value."""
RUNS = 7
KEYS = 60
FIRST = b"Tugtest"
PLAN = b"Remedy"
LISTED = b"Sessions are kept"
STEP = b"The new motor"
LATER = b"Read the contacts live"


def main() -> None:
    """Measure, and print one line each. All programs run from bytecode, as an installed one does."""
    with tempfile.TemporaryDirectory() as bytecode:
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ["PYTHONPYCACHEPREFIX"] = bytecode
        for program, text in ((BARE, FIRST), (DEMO, PLAN), (HOME, LISTED)):
            _until(program, text)
        _measure()


def _measure() -> None:
    bare, demo, home = _starts()
    out = sys.stdout.write
    out(f"demo to the plan:  bare {bare:.0f} ms, ours {demo:.0f} ms, ratio {demo / bare:.2f} (goal 2.0)\n")
    out(f"home to its lines: {home:.0f} ms, ratio {home / bare:.2f} (goal 1.5)\n")
    for name, times in _keys().items():
        times.sort()
        p95 = times[int(len(times) * 0.95) - 1]
        out(f"{name}: p50 {statistics.median(times):.0f} ms, p95 {p95:.0f} ms, max {times[-1]:.0f} ms (goal p95 40)\n")
    bare_kb, ours_kb = _memory()
    ratio = ours_kb / bare_kb
    out(f"memory on a step: bare {bare_kb // 1024} MiB, ours {ours_kb // 1024} MiB, ratio {ratio:.2f} (goal 1.5)\n")


def _starts() -> tuple[float, float, float]:
    """Return the medians of a bare app to its paint, the demo to its plan, home to its lines [ms], interleaved."""
    runs = [[_until(*each) for each in ((BARE, FIRST), (DEMO, PLAN), (HOME, LISTED))] for _ in range(RUNS)]
    bare, demo, home = (statistics.median(times) for times in zip(*runs, strict=True))
    return bare, demo, home


def _until(program: str, text: bytes) -> float:
    """Return the time from starting a program to a text on its screen [ms]."""
    with tempfile.TemporaryDirectory() as folder:
        began = time.perf_counter()
        terminal = Terminal(Path(folder), program)
        terminal.until(text)
        passed = time.perf_counter() - began
        terminal.close()
        return passed * 1000


def _keys() -> dict[str, list[float]]:
    """Return key to last byte of its repaint [ms]: a digit with its preview, and going back and forth between steps."""
    with tempfile.TemporaryDirectory() as folder:
        terminal = Terminal(Path(folder), PROGRAM)
        terminal.until(STEP)
        time.sleep(2.0)
        terminal.read(0.2)
        digits = [_one(terminal, key) for _ in range(KEYS // 4) for key in (b"4", b"8", b"\x7f", b"\x7f")]
        taken = []
        for keys in (b"48", b"\r", b"24", b"\r", b"1", b"n"):
            time.sleep(0.5)
            (taken if keys in {b"\r", b"1", b"n"} else []).append(_one(terminal, keys))
        terminal.close()
    return {
        "a digit, echoed and judged": digits,
        "a step back or forward": _moved(),
        "a value recorded on the disk and shown": taken,
    }


def _moved() -> list[float]:
    """Return the times of going back and forth between two steps, on a job that is well under way [ms]."""
    with tempfile.TemporaryDirectory() as folder:
        terminal = Terminal(Path(folder), WALKED)
        terminal.until(LATER)
        time.sleep(2.0)
        terminal.read(0.2)
        moved = []
        for _ in range(KEYS // 2):
            for key in (b"\x1bOR", b"\r"):
                time.sleep(0.45)
                moved.append(_one(terminal, key))
        terminal.close()
        return moved


def _one(terminal: Terminal, key: bytes) -> float:
    """Press a key; return when the last byte of what it painted came [ms]."""
    terminal.out = b""
    began = time.perf_counter()
    terminal.press(key)
    return (_quiet(terminal) - began) * 1000


def _quiet(terminal: Terminal) -> float:
    """Read until nothing came for 60 ms; return when the last byte came."""
    last = time.perf_counter()
    waiting = True
    while waiting or time.perf_counter() - last < 0.06:
        before = len(terminal.out)
        terminal.read(0.02)
        if len(terminal.out) > before:
            last, waiting = time.perf_counter(), False
        if waiting and time.perf_counter() - last > 2:
            return last
    return last


def _memory() -> tuple[int, int]:
    """Return the resident memory of the bare app and of ours on its first step [kB]."""
    sizes = []
    for program, text in ((BARE, FIRST), (PROGRAM, STEP)):
        with tempfile.TemporaryDirectory() as folder:
            terminal = Terminal(Path(folder), program)
            terminal.until(text)
            time.sleep(2.0)
            status = Path(f"/proc/{terminal.process.pid}/status").read_text(encoding="ascii")
            sizes.append(int(re.search(r"VmRSS:\s+(\d+)", status).group(1)))  # type: ignore[union-attr]
            terminal.close()
    return sizes[0], sizes[1]


if __name__ == "__main__":
    main()
