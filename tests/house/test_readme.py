"""The README shows what the program shows: its picture, its log, its commands."""

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session.answers import load_answers
from engine.session.clock import GivenClock
from engine.session.play import begin
from engine.shipped import find, folder
from engine.view.step import step_view
from tui.cli import COMMANDS, main
from tui.draw.pages import Room
from tui.draw.step import place_lines, step_blocks

TOP = Path(__file__).resolve().parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")


def words(text: str) -> list[str]:
    return text.split()


def test_the_picture_is_the_plan_that_the_demo_opens_with(tmp_path: Path) -> None:
    answers = load_answers(folder("sample_sessions") / "grey-heron-facts.answers.toml")
    job = begin(load(find(answers.procedure)), answers, tmp_path, GivenClock(datetime(2026, 5, 2, 9, tzinfo=UTC), 5))
    view = step_view(job.procedure, job.state, "plan-verdict", job.clock.glance())
    job.close()
    room = Room(80, 24)
    drawn = [*place_lines(view, room), *(line for block in step_blocks(view, room) for line in block.lines)]
    picture = re.search(r"```text\n(.*?)```", README, re.DOTALL)
    assert picture is not None
    said = words(" ".join(line.text.replace("\N{NO-BREAK SPACE}", " ") for line in drawn))
    assert words(picture[1])[: len(said)] == said


@pytest.mark.parametrize("block", re.findall(r"```toml\n(.*?)```", README, re.DOTALL))
def test_what_is_shown_of_a_log_stands_in_the_sample(block: str) -> None:
    log = (folder("sample_sessions") / "grey-heron-clean.toml").read_text(encoding="utf-8")
    lines = [line for line in block.splitlines() if line and not line.startswith(("digest", "#"))]
    at = log.rindex(lines[0], 0, log.index(lines[2]))
    end = log.index("\n\n", at) if lines[0] == "[[event]]" else len(log)
    assert [line for line in lines if line not in log[at:end].splitlines()] == []


def test_every_command_that_the_readme_names_is_there() -> None:
    assert set(re.findall(r"`?tugtest ([a-z]+)", README)) <= set(COMMANDS)


ROWS = re.findall(r"^\| `tugtest ([a-z]+)(.*)\|$", README, re.MULTILINE)


@pytest.mark.parametrize(("command", "said"), ROWS, ids=[command for command, _ in ROWS])
def test_every_option_that_the_table_names_is_one_of_its_command(
    command: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main([command, "--help"])
    known = set(re.findall(r"(--[a-z-]+)", capsys.readouterr().out))
    assert set(re.findall(r"(--[a-z-]+)", said)) <= known
