"""A dead proof ages by what passed in truth, in every shipped job: left or open, the clock set ahead or back.

The fifth line of what once went through unseen (``test_what_was_seen``), and the minutes that a check takes.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.procedure.model_circuit import Since
from engine.review.audit import audit_file
from engine.review.report import report_lines
from engine.session import commands as c
from engine.session.outcome import Recorded
from tests.procedures.playing import CLEAN, STEP_S, before_hands, clean_job

NAMES = tuple(CLEAN)
HOUR_S = 3600.0


@pytest.mark.parametrize("away", [False, True], ids=["open", "left"])
@pytest.mark.parametrize("name", NAMES)
def test_after_72_hours_dead_is_proved_again_whole(name: str, away: bool) -> None:
    job, step = before_hands(name)
    if away:
        job.send(c.Leave("back on Thursday"))
    job.clock.true_s += 72 * HOUR_S
    if away:
        job.send(c.Return())
    refused = job.refused(c.Finish(step.id))
    assert "its dead proof ended by a gap of 72 h" in refused, refused
    assert "hands go on" in refused
    job.send(c.Redo("prove-dead"))
    assert job.at == "known-source"
    assert job.closes_clean()


@pytest.mark.parametrize("name", NAMES)
def test_after_half_an_hour_one_reading_is_asked_and_volts_stop_the_work(name: str) -> None:
    job, step = before_hands(name)
    job.clock.true_s += step.takes_s + 60
    asked = job.refused(c.Finish(step.id))
    assert "once more where hands go: nothing was entered for" in asked
    stayed, left, live = job.copy(), job.copy(), job.copy()
    assert isinstance(stayed.send(c.StayedWith("0.01")), Recorded)
    assert stayed.closes_clean()
    assert isinstance(left.send(c.StayedWith("left")), Recorded)
    assert "prove-dead" not in left.state.done
    assert left.closes_clean()
    assert isinstance(live.send(c.StayedWith("11.9")), Recorded)
    assert live.refused(c.Finish(step.id)).startswith("STOP: 11.9 V where hands go")
    live.send(c.HandsOff())
    assert "its dead proof ended by 11.9 V" in live.refused(c.Finish(step.id))
    assert live.problems() == []


@pytest.mark.parametrize("name", NAMES)
def test_long_work_is_asked_nothing(name: str) -> None:
    job, _ = before_hands(name)
    while not (step := job.step(str(job.at))).feeds:
        job.until_before(step.id)
        job.clock.true_s += step.takes_s - STEP_S
        assert isinstance(job.on(step.id), Recorded)
    assert not [event for event in job.journal.events if event["event"] == "gap"]


@pytest.mark.parametrize("name", NAMES)
def test_the_known_source_is_looked_at_again_after_the_points(name: str) -> None:
    job = clean_job(CLEAN[name], "prove-dead")
    job.give(known_after="12.6" if name != "bow-receptacle" else "25.4")
    for entry in job.asked():
        job.texts = {}
        job._next()
        assert entry.id in job.state.given
    assert job.refused(c.Finish("prove-dead")) == "measure the known source again, after the points"


# The clock, set ahead and set back.


@pytest.mark.parametrize(
    ("true_s", "set_by_s", "says"),
    [(5 * HOUR_S, -5 * HOUR_S + 60, "a gap of 5 h"), (60.0, 15 * HOUR_S, "a gap of 15 h")],
    ids=["set back over five hours", "set ahead"],
)
@pytest.mark.parametrize("name", NAMES)
def test_a_clock_that_was_set_proves_nothing_and_is_named(
    name: str, true_s: float, set_by_s: float, says: str, tmp_path: Path
) -> None:
    job, step = before_hands(name)
    job.clock.true_s += true_s
    job.clock.set_by_s += set_by_s
    assert f"its dead proof ended by {says}" in job.refused(c.Finish(step.id))
    assert job.state.clock_notes == 1
    assert job.closes_clean()
    assert "    times that the clock was set: 1" in report_lines(audit_file(job.log(tmp_path)))


def heated() -> Iterator[tuple[str, str, str]]:
    """Give the minutes that a check of a clean job takes from the clock: the step, and the value that ends them."""
    for name in NAMES:
        for step in clean_job(CLEAN[name]).procedure.steps:
            since = [i for check in step.checks for i in check.inputs.values() if isinstance(i, Since)]
            yield from ((name, step.id, each.end) for each in since)


@pytest.mark.parametrize(("name", "step", "end"), list(heated()))
def test_ten_minutes_are_those_that_passed_not_what_a_clock_was_set_by(name: str, step: str, end: str) -> None:
    for true_s, set_by_s, passes in ((0.0, 600.0, False), (600.0, 0.0, True), (600.0, -590.0, True)):
        job = clean_job(CLEAN[name], step)
        job.until_asked(end)
        job.clock.true_s += true_s
        job.clock.set_by_s += set_by_s
        job.send(c.Take(end, job.text_of(end)))
        outcome = job.on(step)
        assert isinstance(outcome, Recorded) is passes, outcome
        assert passes or "20 s " in outcome.sentence  # type: ignore[union-attr]
        assert job.problems() == []
