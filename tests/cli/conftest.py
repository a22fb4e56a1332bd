"""The command ``tugtest`` for the tests of this folder."""

from pathlib import Path

import pytest

from tests.cli.running import Tugtest


@pytest.fixture
def tugtest(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Tugtest:
    """Return the command, its sessions in an empty folder."""
    return Tugtest(monkeypatch, capsys, tmp_path / "sessions")
