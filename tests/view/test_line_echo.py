"""What is shown while a line of several values is typed: each as it is understood, or the first fault and its place."""

import pytest

from engine.session.state import State
from engine.view.models import Preview
from engine.view.preview import preview_line
from tests.session.jobs import Session, limit, procedure, reading, step

HOW = '\nread.how = { ask = "How", one_of = ["scale", "hand"] }'
BODY = reading("volts") + HOW + reading("amps", "A") + limit("volts >= 12 V")


def seen(line: str) -> Preview:
    job = Session(procedure(step("see", "", BODY)))
    return preview_line(job.procedure, job.state, "see", line, job.now)


@pytest.mark.parametrize("line", ["12.5;", "12.5 ; ", "12.5; 2", "12.5; 2;", "12.5; 2; 3"])
def test_a_line_is_no_fault_as_far_as_it_is_typed(line: str) -> None:
    assert (seen(line).problem, seen(line).echo.split("; ")[0]) == ("", "12.5 V")


def test_each_value_is_echoed_as_it_is_understood_with_the_verdict() -> None:
    found = seen("11; 2; 3")
    assert found.echo == "11 V; hand; 3 A"
    assert [verdict.verdict for verdict in found.verdicts] == ["fail"]


@pytest.mark.parametrize(("line", "column"), [("12.5; 2; 3x", 10), ("12.5; both; 3", None), ("x; 2", 0)])
def test_the_first_fault_has_its_place_in_the_line(line: str, column: int | None) -> None:
    assert seen(line).problem
    assert seen(line).column == column


def test_more_values_than_are_asked_are_said_while_they_are_typed() -> None:
    assert seen("12.5; 2; 3; 4").problem == "4 values were typed; this step still asks for 3"


def test_nothing_is_changed_by_looking() -> None:
    job = Session(procedure(step("see", "", BODY)))
    preview_line(job.procedure, job.state, "see", "12.5; 2", job.now)
    assert isinstance(job.state, State)
    assert job.state.given == {}
