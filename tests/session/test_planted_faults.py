"""The gates are held by tests that can fail: a fault planted in each gate is found by the test that is named for it."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.finding import Verdict
from engine.procedure.model import Hold
from engine.session import allowed, decide, decide_end, decide_entry, decide_step, decide_work, gates
from engine.session.outcome import Refusal
from engine.session.runner import Runner
from tests.session import test_corrections as corrections
from tests.session import test_no_way_round as no_way_round
from tests.session import test_perishable_evidence as perishable
from tests.session import test_runner as runner
from tests.session import test_verdict_table as verdicts
from tests.session import test_work as work

Plant = Callable[[pytest.MonkeyPatch], None]


def gives(module: Any, name: str, fault: Callable[..., Any]) -> Plant:
    """Return what puts ``fault`` in the place of a function."""
    return lambda patch: patch.setattr(module, name, fault)


def _firm_may_be_deviated_from(patch: pytest.MonkeyPatch) -> None:
    patch.setitem(allowed._TABLE, Verdict.FAIL, (allowed.DEVIATE, allowed.DEVIATE, allowed.DEVIATE))


def _firm_may_be_left_out(patch: pytest.MonkeyPatch) -> None:
    def where(*given: Any) -> Any:
        step = real(*given)
        return step if isinstance(step, Refusal) else replace(step, hold=Hold.NONE)

    real = decide_entry._step_of
    patch.setattr(decide_entry, "_step_of", where)


def _only_holds(*given: Any) -> Any:
    return tuple(step for step in gates.applicable(*given) if step.hold)


FAULTS: dict[str, tuple[Plant, Callable[..., None]]] = {
    "zones and pieces ask for nothing": (
        gives(gates, "needs_of_work", lambda *_: ()),
        work.test_a_wire_cut_again_asks_for_all_that_rests_on_its_end_and_for_a_dead_zone,
    ),
    "what a step needs counts though its evidence ended": (
        gives(gates, "stands", lambda _, state, step, __: step in state.done),
        perishable.test_volts_older_than_twelve_hours_are_measured_again,
    ),
    "readings are never too old to end their step": (
        gives(decide_step, "fresh", lambda *_: True),
        perishable.test_old_readings_are_not_made_young_by_ending_their_step_late,
    ),
    "the clock set back is not seen": (
        gives(Runner, "_clock_note", lambda *_: None),
        runner.test_a_clock_set_back_since_the_last_entry_ages_a_proof_before_the_next_one_is_decided,
    ),
    "a gap ends nothing": (
        gives(decide_work, "gap", lambda *_: None),
        perishable.test_silence_while_the_program_runs_is_a_gap_as_being_away_is,
    ),
    "a source that is back ends nothing": (
        gives(decide_work, "fed_by", lambda *_: []),
        work.test_the_dead_proof_alone_opens_nothing_once_the_zone_is_fed,
    ),
    "a newcomer proves nothing again": (
        gives(decide_work, "standing_proofs", lambda *_: []),
        perishable.test_another_person_proves_dead_again_what_hands_go_on,
    ),
    "a step done again voids only itself": (
        gives(decide_work, "route", lambda _, __, start: list(start)),
        corrections.test_doing_a_step_again_voids_it_and_what_rests_on_it_and_nothing_else,
    ),
    "what a step done again had finished stays finished": (
        gives(decide_work, "applicable", lambda *_: ()),
        corrections.test_undoing_a_step_that_finished_something_leaves_it_to_do_again,
    ),
    "holds before a step are not looked at": (
        gives(decide_step, "shut", lambda *_, anew=False: ()),
        no_way_round.test_nothing_goes_past_a_hold_while_it_is_not_known_whether_it_belongs_to_the_job,
    ),
    "a firm hold takes a deviation": (
        _firm_may_be_deviated_from,
        verdicts.test_a_failed_firm_hold_has_no_way_round,
    ),
    "a reading of a firm hold may be left out": (
        _firm_may_be_left_out,
        verdicts.test_a_failed_firm_hold_has_no_way_round,
    ),
    "a correction has nothing ended again": (
        gives(decide_entry, "rejudged_by_value", lambda *_: []),
        corrections.test_a_correction_reopens_only_the_steps_whose_findings_used_the_value,
    ),
    "what is left to do is not noted": (
        gives(decide_step, "_items", lambda *_: ()),
        no_way_round.test_what_is_opened_again_is_finished_again_not_only_ended,
    ),
    "closing asks only for holds": (
        gives(decide_end, "applicable", _only_holds),
        no_way_round.test_a_corrected_fact_brings_a_check_back_into_a_step_that_was_done,
    ),
    "a finding is settled once it is recorded": (
        gives(decide_step, "_settled", lambda *_: True),
        verdicts.test_a_failed_plain_step_goes_on_only_as_a_deviation_with_ten_letters_and_initials,
    ),
    "entries need not be given": (
        gives(decide_step, "open_entries", lambda *_: ()),
        no_way_round.test_doing_a_step_again_asks_again_what_was_left_out,
    ),
    "work goes on past a STOP": (
        gives(decide, "_WHILE_HALTED", object),
        work.test_who_stayed_takes_one_reading_and_who_reads_volts_proves_it_again_whole,
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found(fault: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plant, case = FAULTS[fault]
    told = (tmp_path,) if case.__code__.co_argcount else ()
    case(*told)
    plant(monkeypatch)
    with pytest.raises((AssertionError, pytest.fail.Exception)):
        case(*told)
