"""Real writers, killed without warning: what they confirmed is there, and the next session goes on."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[1] / "bench" / "kill_journal.py"


@pytest.mark.skipif(sys.platform == "win32", reason="the writers are forked")
def test_killed_writers_lose_nothing_that_was_recorded():
    done = subprocess.run([sys.executable, BENCH, "--kills", "40"], capture_output=True, text=True, timeout=120)
    counts = json.loads(done.stdout)
    assert (counts["lost"], counts["unreadable"], counts["half_entries"]) == (0, 0, 0)
    assert counts["kills"] == 40
    assert counts["recorded"] > 0
    assert (done.returncode, done.stderr) == (0, "")
