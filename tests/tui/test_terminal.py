"""The app in a real terminal: it ends cleanly however it is ended, and what was recorded is on the disk."""

import os
import shutil
import signal
import sys
import termios
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.review.folder import WORTH
from engine.session.clock import SystemClock
from engine.session.runner import Runner
from engine.session.scan import read_log
from tests.review.forging import CLEAN
from tests.tui.terminal import PROGRAM, Terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    one = Terminal(tmp_path)
    one.until(b"The new motor")
    yield one
    one.close()


def is_clean(terminal: Terminal) -> None:
    """Assert that the terminal is as it was: its modes, the screen of the shell, a cursor, no mouse reports."""
    assert termios.tcgetattr(terminal.slave) == terminal.before
    last = {mode: terminal.out.rfind(f"\x1b[?{mode}h".encode()) for mode in (1049, 1000, 1003, 2004)}
    assert all(terminal.out.rfind(f"\x1b[?{mode}l".encode()) > on for mode, on in last.items())
    assert terminal.out.rfind(b"\x1b[?25h") > terminal.out.rfind(b"\x1b[?25l")


def recorded(folder: Path) -> int:
    """Return how many events the log holds; it must be whole."""
    (path,) = folder.glob("*.toml")
    found = read_log(path)
    assert found.state == "whole"
    return len(found.events)


def test_ctrl_c_leaves_terminal_and_log_clean(terminal: Terminal, tmp_path: Path) -> None:
    terminal.press(b"48\r")
    terminal.until(b"Recorded.")
    terminal.press(b"\x03")
    assert terminal.ended() == 0
    is_clean(terminal)
    assert recorded(tmp_path) == 2


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_leaves_terminal_and_log_clean(terminal: Terminal, tmp_path: Path, number: signal.Signals) -> None:
    terminal.press(b"48\r")
    terminal.until(b"Recorded.")
    terminal.process.send_signal(number)
    assert terminal.ended() == 0
    is_clean(terminal)
    assert recorded(tmp_path) == 2


def test_a_terminal_that_is_closed_ends_the_program(terminal: Terminal, tmp_path: Path) -> None:
    terminal.press(b"48\r")
    terminal.until(b"Recorded.")
    os.close(terminal.slave)
    os.close(terminal.master)
    terminal.process.wait(20)
    terminal.master, terminal.slave = os.open(os.devnull, os.O_RDWR), os.open(os.devnull, os.O_RDWR)
    assert recorded(tmp_path) == 2


STUCK = """
import threading
from textual.drivers._writer_thread import WriterThread
WriterThread.stop = lambda self: threading.Event().wait()
"""


def test_a_closed_terminal_that_takes_nothing_more_does_not_keep_the_program_and_its_log(tmp_path: Path) -> None:
    one = Terminal(tmp_path, STUCK + PROGRAM)
    one.until(b"The new motor")
    one.press(b"48\r")
    one.until(b"Recorded.")
    one.process.send_signal(signal.SIGHUP)
    assert one.ended() == 0
    one.close()
    (log,) = tmp_path.glob("*.toml")
    Runner.resume(log, SystemClock()).close()
    assert recorded(tmp_path) == 3


def test_a_log_that_cannot_be_begun_is_said_in_the_shell(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", encoding="utf-8")
    one = Terminal(tmp_path / "file")
    assert one.ended() == 2
    assert b"file" in one.out
    assert b"\x1b" not in one.out
    one.close()


def test_what_was_typed_before_the_first_screen_answers_nothing(tmp_path: Path) -> None:
    one = Terminal(tmp_path)
    one.press(b"48\r")
    one.until(b"The new motor")
    one.press(b"50\r")
    one.until(b"Recorded.")
    one.close()
    (log,) = tmp_path.glob("*.toml")
    assert [line for line in log.read_text(encoding="utf-8").splitlines() if line.startswith("raw")] == ['raw = "50"']


REVIEW = """
import sys
from pathlib import Path
import engine.review.desk as room
from tui.review_app import ReviewApp

room.index_path = lambda: Path(sys.argv[1]) / "index.sqlite"
ReviewApp(room.Desk(Path(sys.argv[1])), jobs=2).run()
"""


def test_many_logs_are_reviewed_on_the_screen_with_workers(tmp_path: Path) -> None:
    for number in range(WORTH + 2):
        shutil.copy(CLEAN, tmp_path / f"log-{number:02d}.toml")
    reviewing = Terminal(tmp_path, REVIEW)
    reviewing.until(b"50 logs: ")
    reviewing.close()


def test_a_kill_loses_nothing_that_was_recorded(terminal: Terminal, tmp_path: Path) -> None:
    terminal.press(b"48\r")
    terminal.until(b"Recorded.")
    terminal.process.kill()
    terminal.process.wait()
    assert recorded(tmp_path) == 2


def test_a_suspended_program_comes_back_where_it_was(terminal: Terminal, tmp_path: Path) -> None:
    terminal.press(b"4")
    terminal.until(b"48 A" if b"48 A" in terminal.out else b"4 A")
    terminal.process.send_signal(signal.SIGTSTP)
    end = time.monotonic() + 10
    while "T" not in _state(terminal.process.pid):
        assert time.monotonic() < end
        terminal.read(0.1)
    terminal.out = b""
    terminal.process.send_signal(signal.SIGCONT)
    terminal.until(b"The new motor")
    terminal.press(b"8\r")
    terminal.until(b"Recorded.")
    assert recorded(tmp_path) == 2


def _state(pid: int) -> str:
    return Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()[0]
