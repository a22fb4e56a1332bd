"""A test whose tool is absent is skipped, and fails where the run says that the tool is there."""

import re
from pathlib import Path

import pytest

from tests.tools import absent

TOP = Path(__file__).resolve().parents[2]


def test_without_its_tool_a_test_is_skipped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("TUGTEST_TOOLS", raising=False)
    assert absent("chromium", there=False)
    assert not absent("chromium", there=True)


def test_a_run_that_has_the_tool_does_not_skip(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUGTEST_TOOLS", "axe chromium")
    assert not absent("chromium", there=True)
    with pytest.raises(LookupError, match="chromium is not found"):
        absent("chromium", there=False)


def test_the_automatic_run_demands_every_tool_that_a_test_may_do_without() -> None:
    asked = {
        tool
        for path in (TOP / "tests").rglob("test_*.py")
        if path.name != "test_tools.py"
        for tool in re.findall(r'absent\(\s*"(\w+)"', path.read_text(encoding="utf-8"))
    }
    run = TOP / ".ci" / "run"
    if not run.is_file():
        pytest.skip("not a git checkout: the automatic run is not here")
    told = re.findall(r'TUGTEST_TOOLS="?([a-z ]+)', run.read_text(encoding="utf-8"))
    assert asked == {tool for listed in told for tool in listed.split()}
