"""What somebody may send who means no good, or errs: each is refused in a sentence, and nothing is recorded."""

from math import inf, nan
from pathlib import Path

import pytest
from jobs import Session, limit, procedure, reading, step

from engine.session import commands as c
from engine.session.clock import SystemClock
from engine.session.events import Left
from engine.session.journal import Journal
from engine.session.outcome import Decided
from engine.session.runner import Runner, header_of
from engine.session.scan import read_log
from engine.session.shelf import shelf
from engine.session.trouble import LogRefused

DEAD = step("dead", 'hold = "firm"\nproves_dead = ["wire"]', reading("v") + limit("abs(v) <= 0.1 V"))
MEASURED = step("cut", 'hands_on = ["wire"]', reading("depth", "mm") + limit("depth >= 10 mm"))
JOB = DEAD + MEASURED + step("connect", 'feeds = ["wire"]')


def cut_unmeasured() -> Session:
    session = Session(procedure(JOB))
    session.give(v="0.00")
    session.done("dead")
    assert isinstance(session.send(c.SkipEntry("depth", "no gauge here")), Decided)
    session.done("cut")
    return session


def test_what_was_not_measured_is_not_measured_afterwards_by_a_correction_on_a_live_wire() -> None:
    session = cut_unmeasured()
    session.done("connect")
    assert session.refused(c.Correct("depth", "12", "found the gauge")) == (
        '"cut" needs step 1, "dead", first: hands go on the wire, and its dead proof ended by "connect"'
    )


def test_what_was_not_measured_is_measured_by_a_correction_while_its_gate_is_open() -> None:
    session = cut_unmeasured()
    assert isinstance(session.send(c.Correct("depth", "12", "found the gauge")), Decided)


REPEATED = step("bank", "", reading("v", extra="repeats = 2")) + step(
    "load", 'hold = "hold"', reading("w") + limit("w <= v")
)


def test_a_second_reading_on_one_line_with_others_does_not_change_what_another_step_was_settled_with() -> None:
    session = Session(procedure(REPEATED))
    session.give(v="12.0", w="11")
    session.done("load")
    settled = '"load" was settled with this value; correct it, with a reason'
    assert session.refused(c.Take("v", "12.1")) == settled
    assert session.refused(c.TakeSeveral("bank", "12.1")) == settled


@pytest.mark.parametrize("figures", [(nan, 1, 1), (1, inf, 1), (1, 1, nan), (51, 1, 1), (1, -1, 1)])
def test_an_accuracy_that_is_no_number_or_none_that_can_be_is_refused(figures: tuple[float, float, float]) -> None:
    refused = Session(procedure(JOB)).refused(c.DeclareInstrument("dmm_v", "a meter", *figures))
    assert refused == "an accuracy is percent (0 to 50), counts and one last digit, none below zero"


def test_an_instrument_that_nothing_is_measured_with_is_refused_by_name() -> None:
    refused = Session(procedure(JOB)).refused(c.DeclareInstrument("dmm-v", "a meter", 1, 1, 1))
    assert refused.startswith('there is no instrument "dmm-v"; there are dmm_v, ')


@pytest.mark.parametrize("command", [c.Note("nowhere", "a word"), c.Attach("nowhere", "a.jpg", "0" * 64, 1)])
def test_notes_and_files_belong_to_a_step_that_there_is(command: c.Command) -> None:
    assert Session(procedure(JOB)).refused(command) == 'there is no step "nowhere"'


def test_the_profile_that_is_chosen_already_is_not_chosen_again_and_nothing_is_ended_again() -> None:
    assert Session(procedure(JOB)).refused(c.ChooseProfile("industry")) == '"industry" is the profile already'


def test_initials_are_short() -> None:
    marginal = step("one", "", reading("v") + limit("v >= 10 V", "marginal"))
    session = Session(procedure(marginal))
    session.give(v="5")
    assert (
        session.refused(c.Accept("one", "limit 1", "known and watched", "x" * 11)) == "initials have at most 10 letters"
    )


def test_who_leaves_is_at_a_step_of_this_job() -> None:
    steps = (
        step("ask", "", 'fact.kind = { ask = "which kind", one_of = ["lead", "lithium"] }')
        + step("other", "when = 'kind == \"lithium\"'")
        + step("end")
    )
    session = Session(procedure(steps))
    session.give(kind="lead")
    session.done("ask")
    session.send(c.Leave("tea"))
    assert session.events[-1].event == Left(step="end", line="tea")


@pytest.mark.parametrize("torn", [b"", b'[[event]]\nevent = "open'])
def test_a_log_that_was_killed_before_its_first_event_is_no_session_to_go_on_with(tmp_path: Path, torn: bytes) -> None:
    work = procedure(JOB)
    begun = c.Start("Test Tern", "A. B.")
    now = SystemClock().now()
    journal = Journal.create(tmp_path, "x", header_of(work, begun, "industry 1", SystemClock(), now))
    journal.close()
    journal.path.write_bytes(journal.path.read_bytes() + torn)
    with pytest.raises(LogRefused, match=r"x\.toml: nothing had been recorded in it yet; begin the job again"):
        Runner.resume(journal.path, SystemClock())
    assert read_log(journal.path).sentence == "whole, 0 events"
    (line,) = shelf(tmp_path).lines
    assert (line.state, line.problem) == (None, "nothing had been recorded in it yet")
