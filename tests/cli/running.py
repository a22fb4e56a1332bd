"""Runs the command ``tugtest``: in this process, or as a real one."""

import io
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tui.cli import main

TOP = Path(__file__).resolve().parents[2]
SAMPLES = TOP / "sample_sessions"
FACTS = str(SAMPLES / "grey-heron-facts.answers.toml")
CLEAN = str(SAMPLES / "grey-heron-clean.answers.toml")


@dataclass(frozen=True)
class Ran:
    """What a command line gave."""

    status: int
    out: str
    err: str


class Tugtest:
    """The command, in this process, with its sessions in a folder of the test."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], folder: Path) -> None:
        self._patch, self._capsys, self.folder = monkeypatch, capsys, folder
        monkeypatch.setenv("TUGTEST_FOLDER", str(folder))

    def __call__(self, *words: str, typed: str = "") -> Ran:
        self._patch.setattr(sys, "stdin", io.StringIO(typed))
        try:
            status = main(words)
        except SystemExit as left:
            status = int(left.code or 0)
        out, err = self._capsys.readouterr()
        return Ran(status, out, err)

    def logs(self) -> list[Path]:
        return sorted(self.folder.glob("*.toml"))


def environment(folder: Path, **more: str) -> dict[str, str]:
    kept = {name: text for name, text in os.environ.items() if name not in ("PYTHONIOENCODING", "TERM")}
    return {**kept, "PYTHONPATH": str(TOP), "TUGTEST_FOLDER": str(folder), **more}


def process(*words: str, folder: Path, typed: bytes = b"", **more: str) -> subprocess.CompletedProcess[bytes]:
    """Run the command as a process of its own."""
    command = [sys.executable, "-m", "tui.cli", *words]
    return subprocess.run(command, input=typed, capture_output=True, env=environment(folder, **more), timeout=120)
