"""A real process is killed in the middle of a job; what it had said was recorded is there, at the right step."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from by_hand import typed_lines

from engine.procedure.load import load
from engine.session.answers import load_answers
from engine.session.clock import SystemClock
from engine.session.gates import current_step
from engine.session.runner import Runner
from engine.session.scan import read_log
from engine.session.shelf import state_of
from engine.shipped import find, folder

TOP = Path(__file__).resolve().parents[2]
KILLS = 8


def killed_after(lines: list[str], count: int, where: Path) -> str:
    """Feed the plain face line by line, kill it after ``count`` lines, and return what it had printed by then."""
    env = {**os.environ, "PYTHONPATH": str(TOP), "TUGTEST_FOLDER": str(where)}
    command = [
        sys.executable,
        "-m",
        "tui.cli",
        "start",
        "bow-receptacle",
        "--plain",
        "--asset",
        "Kill Test",
        "--person",
        "K",
    ]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=env, cwd=where.parent) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write("".join(f"{line}\n" for line in lines[:count]).encode())
        process.stdin.flush()
        said = b""
        while said.count(b"recorded: ") < sum(1 for line in lines[:count] if line not in ("", "go")):
            said += process.stdout.read1(65536)
        process.send_signal(signal.SIGKILL)
        process.wait()
        return (said + process.stdout.read()).decode()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal on this system")
@pytest.mark.parametrize("seed", range(KILLS))
def test_nothing_that_was_called_recorded_is_lost_when_the_process_is_killed(seed: int, tmp_path: Path) -> None:
    answers = load_answers(folder("sample_sessions") / "grey-heron-facts.answers.toml")
    lines = typed_lines(load(find("bow-receptacle")), answers)
    count = random.Random(seed).randrange(3, len(lines))
    sessions = tmp_path / "sessions"
    said = killed_after(lines, count, sessions)
    log = next(sessions.glob("*.toml"))
    before = state_of(read_log(log))
    assert len(before.given) >= said.count("recorded: ")
    runner = Runner.resume(log, SystemClock())
    try:
        assert set(runner.state.given) == set(before.given)
        at = current_step(runner.procedure, runner.state, runner.clock.glance())
        assert at == current_step(runner.procedure, before, runner.clock.glance())
    finally:
        runner.close()
