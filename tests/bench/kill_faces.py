"""The three faces as real processes that work on a job and are ended from outside, and what each had shown by then."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import Action, Answers, Away, PassTime
from engine.session.clock import SystemClock
from engine.session.outcome import Recorded
from engine.session.runner import Runner
from engine.session.scan import Scan, read_log
from engine.shipped import find, folder
from tests.faces.by_hand import typed_lines, without_waits
from tests.tui.terminal import Terminal
from tests.tui.typist import SIZE, Typist

TOP = Path(__file__).resolve().parents[2]
NAME = "sensor-repin"
CLEAN = "sanderling-clean.answers.toml"
KILLED, TOLD, HUNG_UP = "killed", "told to end", "hung up"
"""SIGKILL; SIGTERM; its terminal or pipe is closed."""


@dataclass(slots=True)
class Shown:
    """What a face had shown as recorded: entries, answered questions, the furthest step, whether the job was closed."""

    count: int = 0
    asks: set[str] = field(default_factory=set)
    step: int = 0
    closed: bool = False


@cache
def job() -> tuple[Procedure, tuple[Action, ...], Answers]:
    """Return the procedure, and the answers of its clean job, in one sitting in which nobody waits."""
    answers = without_waits()
    return load(find(NAME)), answers.actions, answers


def entries_in(found: Scan) -> int:
    """Return how many entries a log has: values, parts named, notes."""
    return sum(event["event"] in ("reading", "part_named", "note") for event in found.events)


def under_way(sessions: Path, count: int) -> int:
    """Make a log in which the first actions are done; return how many entries it has."""
    work, actions, _ = job()
    runner = Runner.start(work, c.Start("Kill Test", "K"), sessions, SystemClock())
    for action in actions[:count]:
        assert not isinstance(action, Away | PassTime)
        assert isinstance(runner.send(action), Recorded)
    runner.close()
    return entries_in(read_log(runner.path))


def _words(done: int | None) -> list[str]:
    return ["start", NAME, "--asset", "Kill Test", "--person", "K"] if done is None else ["resume"]


def _environment(sessions: Path, **more: str) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(TOP), "TUGTEST_FOLDER": str(sessions), "PYTHONUNBUFFERED": "1", **more}


def _start(sessions: Path, words: list[str]) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", "tui.cli", *words]
    pipe = subprocess.PIPE
    return subprocess.Popen(command, stdin=pipe, stdout=pipe, env=_environment(sessions), cwd=sessions.parent)


def _end(process: subprocess.Popen[bytes], how: str) -> bytes:
    """End a process that is spoken to by pipes; return what it had still said."""
    assert process.stdin is not None
    assert process.stdout is not None
    if how == HUNG_UP:
        process.stdin.close()
        process.send_signal(signal.SIGHUP)
    else:
        process.send_signal(signal.SIGKILL if how == KILLED else signal.SIGTERM)
    said = process.stdout.read()
    process.wait(30)
    return said


def plain(sessions: Path, done: int | None, how: str, life_s: float, dice: random.Random) -> Shown:
    """Type into the plain face, at a pace or all at once, and end it."""
    work, actions, answers = job()
    left = Answers(NAME, answers.start, actions[done or 0 :])
    typed = [f"{line}\n".encode() for line in typed_lines(work, left)]
    with _start(sessions, [*_words(done), "--plain"]) as process:
        assert process.stdin is not None
        ends, pause_s = time.monotonic() + life_s, dice.choice([0.0, 0.0, 0.003, 0.03])
        while typed and time.monotonic() < ends:
            process.stdin.write(typed.pop(0))
            process.stdin.flush()
            time.sleep(pause_s)
        time.sleep(max(0.0, ends - time.monotonic()))
        said = _end(process, how)
    return Shown(count=said.count(b"recorded: "), closed=b"\nclosed, clean\n" in said)


def unattended(sessions: Path, done: int | None, how: str, life_s: float, dice: random.Random) -> Shown:
    """Play a job from a file, and end it; it calls nothing recorded before its end."""
    with _start(sessions, ["start", NAME, "--answers", str(folder("sample_sessions") / CLEAN)]) as process:
        ends = time.monotonic() + 10
        while not list(sessions.glob("*.toml")) and time.monotonic() < ends:
            time.sleep(0.01)
        time.sleep(dice.choice([0.0, life_s / 20, life_s / 5]))
        said = _end(process, how)
    return Shown(closed=b"\nclosed, clean" in said)


def screens(sessions: Path, done: int | None, how: str, life_s: float, dice: random.Random) -> Shown:
    """Key the job into the screens on a pseudo-terminal, and end it."""
    work, actions, _ = job()
    texts = {action.entry: action.text for action in actions if isinstance(action, c.Take)}
    program = f"import sys\nfrom tui.cli import main\nsys.exit(main({_words(done)!r}))"
    terminal = Terminal(sessions, program, SIZE, **_environment(sessions))
    typist = Typist(terminal, work, texts, dice)
    try:
        typist.until(time.monotonic() + 2 * life_s)
        if how == HUNG_UP:
            _hang_up(terminal)
        else:
            terminal.process.send_signal(signal.SIGKILL if how == KILLED else signal.SIGTERM)
            terminal.ended(30)
            typist.look(0.0)
    finally:
        terminal.close()
    return Shown(asks=typist.shown, step=typist.step)


def _hang_up(terminal: Terminal) -> None:
    os.close(terminal.slave)
    os.close(terminal.master)
    terminal.master, terminal.slave = os.open(os.devnull, os.O_RDWR), os.open(os.devnull, os.O_RDWR)
    terminal.process.wait(30)


Face = Callable[[Path, int | None, str, float, random.Random], Shown]
FACES: tuple[Face, ...] = (plain, unattended, screens)
