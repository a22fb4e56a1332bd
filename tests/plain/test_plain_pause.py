"""A pause in the plain face: each step by its number, none for all; what is about one step wants it opened first."""

from pathlib import Path

import pytest

from engine.procedure.load import load_text
from engine.procedure.model import Procedure
from engine.session.clock import GivenClock
from engine.session.commands import Start
from engine.session.runner import Runner
from tests.plain.talking import Talk, Typed, clock, talk
from tests.session.jobs import HEAD, reading, step


def work() -> Procedure:
    steps = step("a") + step("b", "", reading("v")) + step("c", 'needs = ["a"]') + step("cut", 'irreversible = "cut"')
    return load_text(HEAD + 'style = "do-confirm"\n' + steps, "small.toml")


def begun(folder: Path, mode: str = "do-confirm", when: GivenClock | None = None) -> Runner:
    return Runner.start(work(), Start("Test Tern", "A. Tester", mode=mode), folder, when or clock())


def said(folder: Path, *lines: Typed) -> Talk:
    return talk(begun(folder), *lines)


def test_the_steps_are_a_counted_list_with_a_prompt_of_what_is_left(tmp_path: Path) -> None:
    text = said(tmp_path).text
    assert "Steps 1 to 3 of 4 - Work" in text
    assert "Do these, then confirm each: 0 of 3" in text
    assert "> 1 a: Do a.\n- 2 b (1 value)\n- 3 c (after 1): Do c.\n" in text
    assert text.rstrip().split("Left.")[0].strip().endswith("Number of the step that is done (1, 2, 3):")


def test_a_number_ends_its_step_alone_and_is_counted(tmp_path: Path) -> None:
    told = said(tmp_path, "1")
    assert told.after(0).startswith("recorded: a, 1 of 3\n")
    assert set(told.runner.state.done) == {"a"}


@pytest.mark.parametrize("line", ["", "all", "1 2", "1;2", "0", "4", "y", "go"])
def test_nothing_else_ends_a_step(line: str, tmp_path: Path) -> None:
    told = said(tmp_path, line)
    assert told.after(0).startswith("Type a number from 1 to 3: each step by its own")
    assert told.runner.state.done == {}


def test_a_step_that_asks_for_a_value_opens_and_is_ended_as_always(tmp_path: Path) -> None:
    told = said(tmp_path, "2", "5", "")
    assert "Step 2 of 4" in told.after(0)
    assert told.after(1).startswith("recorded: 5 V\n")
    assert "+ 2 b (done)" in told.after(2)


def test_a_step_that_needs_another_says_which(tmp_path: Path) -> None:
    assert said(tmp_path, "3").after(0).startswith('Not taken: needs step 1, "a", first.\n')


@pytest.mark.parametrize("line", [".skip no meter", ".why", ".sum", ".redo"])
def test_what_is_about_one_step_wants_it_opened_first(line: str, tmp_path: Path) -> None:
    told = said(tmp_path, line)
    assert told.after(0).startswith("That is about one step: type its number first.\n")
    assert told.runner.state.absent == {}


def test_back_from_an_opened_step_is_its_list(tmp_path: Path) -> None:
    assert "Do these, then confirm each: 0 of 3" in said(tmp_path, "2", ".back").after(1)


def test_what_cannot_be_undone_stands_alone_after_the_list(tmp_path: Path) -> None:
    told = said(tmp_path, "1", "2", "5", "", "3")
    assert "Step 4 of 4" in told.after(4)
    assert "Cannot be undone: cut" in told.after(4)


def test_the_mode_can_be_changed_and_an_unknown_one_is_refused(tmp_path: Path) -> None:
    told = talk(begun(tmp_path, ""), ".mode do-confirm", ".mode tick-all", ".mode read-do")
    assert "Do these, then confirm each" in told.after(0)
    assert 'there is no way of working "tick-all"' in told.after(1)
    assert "Step 1 of 4" in told.after(2)
