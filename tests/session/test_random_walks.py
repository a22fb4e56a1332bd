"""Random commands on the shipped procedures, held against a ledger that trusts no gate: none closes dishonestly."""

import pytest
from desk import Desk, on_the_way, shipped_procedure
from job_machine import run_machine
from walking import walk

from engine.session import commands as c
from engine.session.events import Closed, StepDone
from engine.session.outcome import Recorded
from engine.shipped import shipped

PROCEDURES = [path.stem for path in shipped()]
WALKS = 12
SEQUENCES = 200
"""Command sequences a procedure here; the bench tries 10,000."""


@pytest.mark.parametrize("name", PROCEDURES)
def test_no_command_sequence_closes_with_a_firm_hold_unproved_or_an_item_left(name: str) -> None:
    run_machine(name, SEQUENCES, steps=20)


@pytest.mark.parametrize("name", PROCEDURES)
def test_a_job_torn_at_by_random_commands_can_still_be_mended_and_closed(name: str) -> None:
    for seed in range(WALKS):
        assert walk(name, seed, to_the_end=True).state.over, f"seed {seed} found no way on"


@pytest.mark.parametrize("name", PROCEDURES)
def test_the_ledger_agrees_with_the_clean_job(name: str) -> None:
    for desk in on_the_way(name)[::20]:
        desk.check()


def test_the_ledger_itself_finds_a_closing_before_the_work_is_done() -> None:
    desk = Desk(shipped_procedure("nav-lights"))
    assert isinstance(desk.send(c.Start("Test Tern", "A. B.")), Recorded)
    with pytest.raises(AssertionError, match="stands as done"):
        desk.ledger.take(Closed(clean=True, deviations=0, missing=0, marginals=0), 0.0)


def test_the_ledger_itself_finds_a_hold_that_nobody_proved() -> None:
    desk = on_the_way("nav-lights")[0].copy()
    with pytest.raises(AssertionError, match=r"before the hold|before its gate"):
        desk.ledger.take(StepDone(step="on-the-wire"), 0.0)
