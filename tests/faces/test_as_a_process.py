"""The plain face as a real process: a whole job through a pipe, a kill in the middle and going on, which face opens."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from by_hand import typed_lines, without_waits

from engine.procedure.load import load
from engine.session.scan import read_log
from engine.session.shelf import state_of
from engine.shipped import find
from tests.cli.running import TOP, environment, process

NAME = "sensor-repin"
POSIX = pytest.mark.skipif(os.name != "posix", reason="needs a terminal and signals of POSIX")


def lines() -> list[str]:
    return typed_lines(load(find(NAME)), without_waits())


def whole(typed: list[str]) -> bytes:
    return "".join(f"{line}\n" for line in typed).encode()


def values(log: Path) -> dict[str, str]:
    return {entry: given.taken.raw for entry, given in state_of(read_log(log)).given.items()}


def test_a_whole_job_through_a_pipe_has_no_escape_byte_and_every_line_ends(tmp_path: Path) -> None:
    words = ("start", NAME, "--asset", "Pipe Tern", "--person", "P")
    ran = process(*words, folder=tmp_path, typed=whole(lines()))
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert [byte for byte in set(ran.stdout) if byte < 32 and byte != 10] == []
    assert b"\nclosed, clean\n" in ran.stdout
    assert ran.stdout.endswith(b"\n")


class Typist:
    """Types into a running plain face, a line at a time, and reads until it is asked again."""

    def __init__(self, *words: str, where: Path) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tui.cli", *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=environment(where),
            cwd=TOP,
        )
        self.said = self.until_asked()

    def type(self, line: str) -> str:
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n".encode())
        self.process.stdin.flush()
        return self.until_asked()

    def until_asked(self) -> str:
        assert self.process.stdout is not None
        said = b""
        while not said.endswith((b":\n", b"?\n", b"the step.\n")) and b"\n  1 " not in said:
            chunk = self.process.stdout.read1(65536)
            if not chunk:
                break
            said += chunk
        return said.decode()

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.communicate()


@POSIX
@pytest.mark.parametrize("count", [1, 7, 30, 61])
def test_after_a_kill_the_command_resume_asks_for_the_next_value_and_nothing_is_lost(
    count: int, tmp_path: Path
) -> None:
    typed = lines()
    typist = Typist("start", NAME, "--asset", "Kill Tern", "--person", "K", where=tmp_path)
    said = "".join(typist.type(line) for line in typed[:count])
    typist.kill()
    (log,) = tmp_path.glob("*.toml")
    known = values(log)
    assert len(known) == said.count("recorded: ") - said.count("recorded: on the wire")
    ran = process("resume", folder=tmp_path, typed=whole(typed[count:]))
    assert b"\nclosed, clean\n" in ran.stdout
    assert ran.returncode == 0
    done = values(log)
    assert {entry: done[entry] for entry in known} == known
    assert read_log(log).state == "whole"


@POSIX
def test_a_kill_while_a_line_is_being_taken_loses_nothing_that_was_echoed(tmp_path: Path) -> None:
    typist = Typist("start", NAME, "--asset", "Kill Tern", "--person", "K", where=tmp_path)
    assert typist.process.stdin is not None
    assert typist.process.stdout is not None
    typist.process.stdin.write(whole(lines()[:40]))
    typist.process.stdin.flush()
    said = b""
    while said.count(b"recorded: ") < 12:
        said += typist.process.stdout.read1(4096)
    typist.process.send_signal(signal.SIGKILL)
    said += typist.process.communicate()[0]
    (log,) = tmp_path.glob("*.toml")
    assert len(values(log)) >= said.count(b"recorded: ")
    assert process("resume", folder=tmp_path).returncode == 0
    assert read_log(log).state == "whole"


def at_a_terminal(where: Path, *words: str, **more: str) -> bytes:
    """Return the first bytes that the command writes at a real terminal, until something is asked."""
    import pty

    pid, terminal = pty.fork()
    if pid == 0:  # the child: becomes the command
        os.chdir(TOP)
        os.execve(sys.executable, [sys.executable, "-m", "tui.cli", *words], environment(where, **more))
    said = b""
    ends = time.monotonic() + 60
    try:
        while time.monotonic() < ends and b"\x1b[" not in said and b":\r\n" not in said[-3:]:
            said += os.read(terminal, 65536)
    except OSError:  # the terminal was closed
        pass
    finally:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(terminal)
    return said


@POSIX
@pytest.mark.parametrize(("words", "more"), [(("--plain",), {"TERM": "xterm"}), ((), {"TERM": "dumb"}), ((), {})])
def test_plain_a_dumb_terminal_and_none_at_all_get_lines_without_escapes(
    words: tuple[str, ...], more: dict[str, str], tmp_path: Path
) -> None:
    said = at_a_terminal(tmp_path, "start", "bow-receptacle", "--asset", "Tern", *words, **more)
    assert b"\x1b" not in said
    assert b"Step 1 of " in said


@POSIX
def test_a_terminal_gets_the_screens(tmp_path: Path) -> None:
    assert b"\x1b[" in at_a_terminal(tmp_path, "start", "bow-receptacle", "--asset", "Tern", TERM="xterm-256color")
