"""Several values of a step in one line: each is asked as the ones before it have made it; all are taken or none."""

import pytest

from engine.session import commands as c
from engine.session.outcome import Decided, Refusal
from tests.session.jobs import Session, procedure, reading, step

HOW = '\nread.how = { ask = "How it is pulled", one_of = ["scale", "hand"] }'
FORCE = reading("force", "N", """when = 'how == "scale"'""")
LINE = reading("torque", "N m") + HOW + FORCE + reading("last", "mm")


def session(body: str = LINE) -> Session:
    return Session(procedure(step("see", "", body)))


def numbers(job: Session) -> dict[str, object]:
    return {entry: given.taken.label or given.taken.number for entry, given in job.state.given.items()}


@pytest.mark.parametrize(
    ("line", "given"),
    [
        ("4; scale; 80; 5", {"torque": 4.0, "how": "scale", "force": 80.0, "last": 0.005}),
        ("4;1;80;5", {"torque": 4.0, "how": "scale", "force": 80.0, "last": 0.005}),
        ("4; hand; 5", {"torque": 4.0, "how": "hand", "last": 0.005}),
        ("4; 2", {"torque": 4.0, "how": "hand"}),
    ],
)
def test_a_value_that_only_another_one_asks_for_stands_after_it(line: str, given: dict[str, object]) -> None:
    job = session()
    assert isinstance(job.send(c.TakeSeveral("see", line)), Decided)
    assert numbers(job) == given


def test_the_rest_of_a_step_is_taken_in_a_later_line() -> None:
    job = session()
    job.send(c.TakeSeveral("see", "4; 1"))
    job.send(c.TakeSeveral("see", "80; 5"))
    assert numbers(job) == {"torque": 4.0, "how": "scale", "force": 80.0, "last": 0.005}


def test_a_reading_that_is_taken_twice_takes_two_places() -> None:
    job = session(reading("v", "V", "repeats = 2") + reading("w", "A"))
    job.send(c.TakeSeveral("see", "12.4; 12.6; 3"))
    assert len(job.state.given["v"].readings) == 2
    assert job.state.given["w"].taken.number == 3


def test_more_values_than_are_asked_are_refused_and_none_is_taken() -> None:
    job = session()
    assert job.refused(c.TakeSeveral("see", "4; hand; 5; 6")) == "4 values were typed; this step still asks for 3"
    assert job.state.given == {}


@pytest.mark.parametrize(("line", "column"), [("4; hand; 5x", 10), ("4x; hand", 1), ("  4x", 3)])
def test_a_fault_in_a_line_has_its_place_in_the_whole_line(line: str, column: int) -> None:
    job = session()
    refused = job.send(c.TakeSeveral("see", line))
    assert isinstance(refused, Refusal)
    assert refused.column == column
    assert job.state.given == {}
