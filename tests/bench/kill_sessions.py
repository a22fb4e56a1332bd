"""End whole sessions from outside at random moments: kill_sessions.py [--ends 1000] [--seed 1] [--jobs 2].

Each is one of the three faces, drawn at random: lines typed into the plain face, keys pressed on the screens in a real
pseudo-terminal, an answers file played unattended; on a new job, or on one that is under way. Four in five are killed
(SIGKILL), the others are told to end (SIGTERM) or lose their terminal or pipe (SIGHUP). Nothing that was shown as
recorded may be lost, no log unreadable, and every session resumes at the step where its events leave it. A kill leaves
the system's memory alive: what a power cut does is simulated in the tests.
"""

import argparse
import random
import subprocess
import sys
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP)]

from engine.session.clock import GivenClock  # noqa: E402
from engine.session.gates import current_step  # noqa: E402
from engine.session.runner import Runner  # noqa: E402
from engine.session.scan import Scan, read_log  # noqa: E402
from engine.session.shelf import state_of  # noqa: E402
from engine.session.state import State  # noqa: E402
from tests.bench.kill_faces import (  # noqa: E402
    FACES,
    HUNG_UP,
    KILLED,
    TOLD,
    Face,
    Shown,
    entries_in,
    job,
    unattended,
    under_way,
)

LONGEST_LIFE_S = 4.0
"""A face lives up to so long, the unattended half, the screens twice as long, since they start slower [s]."""

WAYS = (*[KILLED] * 8, TOLD, HUNG_UP)


def one(seed: int, face: Face | None = None) -> tuple[str, str, str, int]:
    """End one session; return its face, how it was ended, what was found, and how many entries it had shown."""
    dice = random.Random(seed)
    face, how = face or dice.choice(FACES), dice.choice(WAYS)
    done = None if face is unattended or dice.random() < 0.5 else dice.randrange(len(job()[1]) - 10)
    with tempfile.TemporaryDirectory() as place:
        sessions = Path(place) / "sessions"
        before = 0 if done is None else under_way(sessions, done)
        try:
            shown = face(sessions, done, how, dice.uniform(0.4, LONGEST_LIFE_S), dice)
        except subprocess.TimeoutExpired:
            return face.__name__, how, "RUNNING still after half a minute", 0
        shown.count += before
        return face.__name__, how, look_after(sessions, shown, torn=how == KILLED), len(shown.asks) + shown.count


def look_after(sessions: Path, shown: Shown, *, torn: bool) -> str:
    """Return what is wrong afterwards, or "whole" or "torn"; "not begun" if there is no log yet."""
    anything = shown.count or shown.asks or shown.closed
    logs = list(sessions.glob("*.toml")) if sessions.is_dir() else []
    if not logs:
        return "LOST the whole log" if anything else "not begun"
    found = read_log(logs[0])
    if found.state not in ("whole", "torn") or (found.state == "torn" and found.events and not torn):
        return f"UNREADABLE: {found.sentence}"
    if not found.events:
        return "LOST every entry" if anything else "not begun"
    state = state_of(found)
    return lost(found, state, shown) or (found.state if state.over else _resumed(logs[0], state) or found.state)


def lost(found: Scan, state: State, shown: Shown) -> str:
    """Return what had been shown as recorded and is not in the log, or an empty text."""
    if entries_in(found) < shown.count:
        return f"LOST {shown.count - entries_in(found)} entries"
    work = job()[0]
    if gone := shown.asks - {work.entry_by_id[entry].ask for entry in state.given}:
        return f"LOST {sorted(gone)}"
    if shown.step - 1 > len(state.done):
        return f"LOST a step: {len(state.done)} done, step {shown.step} shown"
    return "LOST the closing" if shown.closed and not state.closed else ""


def _resumed(log: Path, state: State) -> str:
    """Go on with the log at once, by its own clock; return what is not as it was, or an empty text."""
    runner = Runner.resume(log, GivenClock(datetime.fromisoformat(state.last_at)))
    try:
        now = runner.clock.glance()
        before, after = current_step(runner.procedure, state, now), current_step(runner.procedure, runner.state, now)
    finally:
        runner.close()
    same = set(state.given) == set(runner.state.given) and set(state.done) == set(runner.state.done)
    if not same:
        return "RESUMED with other entries or steps"
    return "" if before == after else f"RESUMED at {after}, should be {before}"


def _said(counts: Counter[tuple[str, str, str]]) -> str:
    return "; ".join(f"{face}, {how}: {outcome} {count}" for (face, how, outcome), count in sorted(counts.items()))


def main() -> int:
    """Print the counts by face; 1 if anything was lost, unreadable or resumed elsewhere."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--ends", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    asked = parser.parse_args()
    counts, shown = Counter[tuple[str, str, str]](), Counter[str]()
    seeds = range(asked.seed * 1_000_000, asked.seed * 1_000_000 + asked.ends)
    with ThreadPoolExecutor(asked.jobs) as pool:
        for number, (face, how, outcome, entries) in enumerate(pool.map(one, seeds), 1):
            counts[face, how, outcome] += 1
            shown[face] += entries
            if outcome.split()[0].isupper():
                print(f"seed {seeds[number - 1]}: {face}, {how}: {outcome}", flush=True)
            if number % 100 == 0:
                print(f"{number} of {asked.ends}: {_said(counts)}", flush=True)
    print(_said(counts).replace("; ", "\n"))
    print(f"entries shown as recorded: {dict(shown)}")
    return int(any(outcome.split()[0].isupper() for _, _, outcome in counts))


if __name__ == "__main__":
    sys.exit(main())
