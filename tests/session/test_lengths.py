"""What is too long to be kept is refused in a sentence: nothing that a person wrote is ever cut in silence."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session import commands as c
from engine.session.clock import GivenClock
from engine.session.outcome import Recorded, Refusal
from engine.session.runner import Runner
from engine.session.trouble import LogRefused
from engine.shipped import find

LONG, LONGER = "x" * 81, "y" * 501


def begun(where: Path, **start: str) -> Runner:
    asked = {"asset": "Test Tern", "person": "A. T.", **start}
    return Runner.start(
        load(find("bow-receptacle")), c.Start(**asked), where, GivenClock(datetime(2026, 5, 2, tzinfo=UTC))
    )


@pytest.mark.parametrize("key", ["asset", "person", "place"])
def test_a_name_that_is_too_long_begins_no_log(key: str, tmp_path: Path) -> None:
    with pytest.raises(LogRefused, match="has 81 characters; at most 80 are kept"):
        begun(tmp_path, **{key: LONG})
    assert list(tmp_path.iterdir()) == []


def test_a_name_of_the_longest_length_is_kept_whole(tmp_path: Path) -> None:
    runner = begun(tmp_path, asset=LONG[:80])
    assert runner.state.asset == LONG[:80]
    runner.close()


@pytest.mark.parametrize(
    "command",
    [
        c.Stop(LONGER, "all off"),
        c.Stop("the wire is too short", LONGER),
        c.Leave(LONGER),
        c.Note("", LONGER),
        c.HandOver(LONG),
        c.DeclareInstrument("dmm_v", LONG, 0.5, 2, 0.01),
        c.DeclareInstrument("dmm_v", "meter", 0.5, 2, 0.01, LONG),
    ],
    ids=lambda command: type(command).__name__,
)
def test_a_text_that_is_too_long_is_refused_and_nothing_is_recorded(command: c.Command, tmp_path: Path) -> None:
    runner = begun(tmp_path)
    before = runner.count
    outcome = runner.send(command)
    runner.close()
    assert isinstance(outcome, Refusal)
    assert "characters; at most" in outcome.sentence
    assert runner.count == before


def test_a_text_of_the_longest_length_is_kept_whole(tmp_path: Path) -> None:
    runner = begun(tmp_path)
    assert isinstance(runner.send(c.Leave(LONGER[:500])), Recorded)
    assert runner.state.left_line == LONGER[:500]
    runner.close()
