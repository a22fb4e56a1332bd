"""What the tests of procedures share: a Python of its own, to see what gets imported."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture
def fresh_python() -> Callable[[str], str]:
    root = Path(__file__).resolve().parents[2]

    def run(code: str) -> str:
        done = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
        return done.stdout.strip()

    return run
