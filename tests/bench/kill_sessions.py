"""Kill whole sessions with SIGKILL at random points: kill_sessions.py [KILLS] [SEED].

Half of them are typed line by line into the plain face, half are played from an answers file. Nothing that was called
recorded may be lost, no log unreadable, and every session resumes at the step where its events leave it. A kill leaves
the system's memory alive: what a power cut does is simulated in the tests.
"""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP), str(TOP / "tests" / "faces")]

from by_hand import typed_lines  # noqa: E402

from engine.procedure.load import load  # noqa: E402
from engine.session.answers import load_answers  # noqa: E402
from engine.session.clock import SystemClock  # noqa: E402
from engine.session.gates import current_step  # noqa: E402
from engine.session.runner import Runner  # noqa: E402
from engine.session.scan import read_log  # noqa: E402
from engine.session.shelf import state_of  # noqa: E402
from engine.shipped import find, folder  # noqa: E402

LONGEST_LIFE_S = 3.0
FACTS = "grey-heron-facts.answers.toml"
CLEAN = "grey-heron-clean.answers.toml"


def tugtest(sessions: Path, *words: str) -> subprocess.Popen[bytes]:
    """Start the program on a folder of sessions."""
    env = {**os.environ, "PYTHONPATH": str(TOP), "TUGTEST_FOLDER": str(sessions), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "tui.cli", *words]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=env, cwd=sessions.parent)


def killed(process: subprocess.Popen[bytes], text: bytes, life_s: float) -> bytes:
    """Feed a process, kill it after a while, and return all it had printed."""
    with process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(text)
        process.stdin.flush()
        time.sleep(life_s)
        process.send_signal(signal.SIGKILL)
        return process.stdout.read()


def killed_by_hand(sessions: Path, life_s: float) -> int:
    """Kill the plain face and return how many entries it had called recorded."""
    lines = typed_lines(load(find("bow-receptacle")), load_answers(folder("sample_sessions") / FACTS))
    words = ("start", "bow-receptacle", "--plain", "--asset", "Kill Test", "--person", "K")
    said = killed(tugtest(sessions, *words), "".join(f"{line}\n" for line in lines).encode(), life_s)
    return said.count(b"recorded: ")


def killed_unattended(sessions: Path, life_s: float) -> int:
    """Kill a job that is played from a file; it calls nothing recorded before its end."""
    answers = str(folder("sample_sessions") / CLEAN)
    killed(tugtest(sessions, "start", "bow-receptacle", "--answers", answers), b"", life_s)
    return 0


def look_after(sessions: Path, recorded: int) -> str:
    """Return what is wrong after a kill, or an empty text; "not begun" if there is no log yet."""
    logs = list(sessions.glob("*.toml")) if sessions.is_dir() else []
    if not logs:
        return "lost" if recorded else "not begun"
    found = read_log(logs[0])
    if found.state not in ("whole", "torn"):
        return "not begun" if not recorded and not found.events else f"unreadable: {found.sentence}"
    state = state_of(found)
    if len(state.given) < recorded:
        return f"lost {recorded - len(state.given)}"
    if not found.events or state.over:
        return "not begun" if not found.events else ""
    runner = Runner.resume(logs[0], SystemClock())
    try:
        now = runner.clock.glance()
        before, after = current_step(runner.procedure, state, now), current_step(runner.procedure, runner.state, now)
    finally:
        runner.close()
    return "" if before == after else f"resumed at {after}, should be {before}"


def kill_many(kills: int, seed: int) -> dict[str, int]:
    """Kill that many sessions and count what was found."""
    dice, counts = random.Random(seed), dict[str, int]()
    for number in range(kills):
        with tempfile.TemporaryDirectory() as place:
            sessions = Path(place) / "sessions"
            face = killed_unattended if number % 2 else killed_by_hand
            recorded = face(sessions, dice.uniform(0.6, LONGEST_LIFE_S))
            outcome = look_after(sessions, recorded) or "whole"
            counts[outcome] = counts.get(outcome, 0) + 1
            counts["recorded"] = counts.get("recorded", 0) + recorded
    return counts


def main() -> int:
    """Print the counts; 1 if anything was lost, unreadable or resumed elsewhere."""
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    counts = kill_many(kills, int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    print(counts)
    return int(bool(set(counts) - {"whole", "not begun", "recorded"}))


if __name__ == "__main__":
    sys.exit(main())
