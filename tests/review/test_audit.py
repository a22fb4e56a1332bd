"""One log audited: its chain, the readings and verdicts recomputed, the order, the holds, and nothing written."""

import os
import re
import shutil
import stat
from pathlib import Path

import pytest

from engine.review.audit import Audit, audit, audit_file
from engine.review.report import report_lines
from tests.review.forging import (
    ALTERED_AT,
    CLEAN,
    EVENTS,
    MENDED,
    first,
    number_of,
    rebuilt,
    setting,
    unchanged,
    without,
)
from tests.samples.remake import Sample


def problems(found: Audit) -> list[str]:
    assert found.replay is not None, found.problem
    return found.replay.problems


def forged(change, source: Path = CLEAN, **header) -> Audit:
    return audit(rebuilt(change, source, header), "forged.toml")


def test_a_whole_clean_log_has_nothing_to_say_against_it() -> None:
    found = audit_file(CLEAN)
    assert (found.chain, found.ended, found.exit_status, problems(found)) == ("whole", "closed, clean", 0, [])


def test_a_chain_built_anew_over_the_same_events_is_no_reason_for_doubt() -> None:
    assert problems(forged(unchanged)) == []


def test_the_same_bytes_give_the_same_audit(sample: Sample) -> None:
    data = sample(MENDED).read_bytes()
    assert audit(data, "a") == audit(data, "a")


def test_a_log_cut_in_the_middle_of_an_event_is_cut_short_and_still_read_up_to_there() -> None:
    data = CLEAN.read_bytes()
    found = audit(data[: data.index(b"\n[[event]]", 100_000) + 40], "cut.toml")
    assert (found.chain, found.exit_status, problems(found)) == ("torn", 1, [])
    assert found.ended == f"open, {found.count} events"


def test_a_changed_reading_is_altered_and_the_report_says_at_which_event() -> None:
    found = audit(CLEAN.read_bytes().replace(b'raw = "24.36"', b'raw = "24.06"'), "bad.toml")
    assert (found.chain, found.exit_status) == ("altered", 2)
    assert f"altered: event {ALTERED_AT}" in report_lines(found)[0]


def test_a_log_saved_by_an_editor_that_changed_line_ends_is_told_from_an_altered_one() -> None:
    found = audit(CLEAN.read_bytes().replace(b"\n", b"\r\n"), "saved.toml")
    assert (found.chain, found.exit_status) == ("edited", 2)
    assert report_lines(found)[0].startswith("saved.toml: touched by an editor")


def test_a_log_of_a_newer_format_is_named_as_such() -> None:
    found = audit(CLEAN.read_bytes().replace(b"\nformat = 2\n", b"\nformat = 3\n", 1), "new.toml")
    assert (found.chain, found.exit_status) in {("newer", 2), ("altered", 2)}


@pytest.mark.parametrize("data", [b"", b"hello", b"\x00" * 4096, b"[session]\nformat = ", os.urandom(2000)])
def test_whatever_bytes_are_given_the_audit_answers_with_status_two_or_one(data: bytes) -> None:
    assert audit(data, "x").exit_status in (1, 2)


def test_a_folder_or_a_missing_file_is_no_log(tmp_path: Path) -> None:
    assert [audit_file(p).chain for p in (tmp_path, tmp_path / "gone.toml")] == ["not a log", "not a log"]


def test_a_recorded_verdict_that_comes_out_otherwise_is_shown_with_both() -> None:
    (line, *_) = problems(forged(setting({"verdict": "fail"}, event="finding", step="polarity")))
    assert "recorded fail" in line
    assert "recomputed pass" in line


def test_a_number_that_its_raw_text_does_not_give_is_shown_with_both() -> None:
    (line, *_) = problems(forged(setting({"number": 99.0}, event="reading", entry="v_bank")))
    at = number_of(event="reading", entry="v_bank")
    assert line == f'event {at}, v_bank: recorded "25.38" as 99.0 V; recomputed "25.38" as 25.38 V'


def test_a_step_ended_before_its_gate_is_out_of_order() -> None:
    found = problems(forged(without(event="step_done", step="prove-dead")))
    assert re.search(r'name-wires: needs step \d+, "Prove it dead", first', found[0])


def test_a_step_ended_without_a_reading_is_out_of_order() -> None:
    found = problems(forged(without(event="reading", entry="v_tripped")))
    assert any("trip: ended although: still to give" in line for line in found)


def test_closed_with_a_firm_hold_unproved_is_said_and_its_hold_stays_shut() -> None:
    found = forged(lambda events: [e for e in events if e.get("step") != "prove-dead"])
    assert any("closed although prove-dead was not done" in line for line in problems(found))
    assert [h.by for h in found.holds if h.step == "prove-dead"] == [""]
    assert found.exit_status == 1


def test_a_hold_whose_opening_was_not_recorded_is_said() -> None:
    found = forged(without(event="hold_cleared", step="polarity"))
    assert any("polarity: the hold is not recorded as opened" in line for line in problems(found))


def test_a_hold_opened_by_deviation_and_recorded_as_evidence_would_be_said() -> None:
    found = forged(setting({"by": "deviation"}, event="hold_cleared", step="load-test"))
    assert any("recorded as opened by deviation; it was opened by evidence" in line for line in problems(found))


def test_closing_figures_are_recomputed_and_not_believed() -> None:
    found = problems(forged(setting({"clean": False, "deviations": 3}, event="closed")))
    assert found == [f"event {EVENTS}: clean is False, should be True; deviations is 3, should be 0"]


def test_something_opened_that_was_not_put_down_as_left_to_do_is_said() -> None:
    found = problems(forged(without(event="item_left", item="covers")))
    assert any("the log should say before it: left to do: covers" in line for line in found)


def test_evidence_that_a_reconnected_source_ends_cannot_be_kept_by_leaving_it_out() -> None:
    found = problems(forged(setting({"ended": []}, event="fed", step="link-in")))
    assert any("ended is none, should be sources-off, lift-negative" in line for line in found), found
    assert problems(forged(without(event="fed", step="link-in"))) != []


def test_a_reading_taken_after_its_step_was_ended_needs_a_correction() -> None:
    def late(events: list[dict]) -> None:
        events.insert(len(events) - 3, dict(first(events, event="reading", entry="v_bank")))

    assert any("v_bank was taken after its step was ended" in line for line in problems(forged(late)))


def test_an_event_after_the_end_of_the_job_is_said() -> None:
    found = problems(forged(lambda events: events.append({**events[0], "event": "opened"})))
    assert f"event {EVENTS + 1}: a log is opened once, by its first event" in found


def test_numbers_that_do_not_run_on_are_said() -> None:
    changed = rebuilt(setting({"n": 400}, event="closed"), renumber=False)
    assert problems(audit(changed, "x")) == [f"event 400 stands where event {EVENTS} should"]


def test_a_dated_look_with_another_date_is_said() -> None:
    found = problems(forged(setting({"on": "2036-05-03T09:44:40+00:00"}, event="due", item="first-day")))
    assert any("a dated look is missing or has another date" in line for line in found)


def test_a_header_that_names_another_boat_than_the_events_is_said() -> None:
    assert problems(forged(unchanged, asset="Reed Wren")) == [
        'header: asset says "Reed Wren", the log holds "Grey Heron"'
    ]


def test_a_loosened_procedure_does_not_have_the_hash_that_the_header_states() -> None:
    def loosened(events: list[dict]) -> None:
        """Leave the events."""

    text = audit_file(CLEAN).procedure.text.replace('title = "Bow-motor', 'title = "Easy bow-motor', 1)
    assert any(line.startswith("header: procedure_sha256") for line in problems(forged(loosened, procedure_text=text)))


@pytest.mark.parametrize(
    ("changes", "which", "word"),
    [
        ({"at": "yesterday"}, {"event": "closed"}, "no readable time"),
        ({"at": "2026-05-02T09:00:00"}, {"event": "closed"}, "no readable time"),
        ({"profile": "none"}, {"event": "opened"}, "no rule profile"),
        ({"event": "teleported"}, {"event": "closed"}, "not an event that this version knows"),
        ({"colour": "red"}, {"event": "closed"}, "unknown key"),
        ({"raw": 3}, {"event": "reading"}, "wrong type"),
    ],
)
def test_a_log_that_cannot_be_walked_says_why_and_is_not_trusted(changes: dict, which: dict, word: str) -> None:
    found = forged(setting(changes, **which))
    assert found.exit_status == 2
    assert word in found.problem


@pytest.mark.parametrize("name", ["step", "entry"])
def test_names_that_the_procedure_does_not_know_are_said(name: str) -> None:
    found = problems(forged(setting({name: "../../etc"}, event="reading", entry="v_line")))
    assert any("../../etc" in line for line in found)


def test_hostile_texts_stand_in_the_report_on_one_line_each() -> None:
    hostile = "Heron\nforged line\x1b[31m<script>"
    found = forged(setting({"asset": hostile}, event="opened"), asset=hostile)
    assert not any(line.startswith("forged line") for line in report_lines(found))


def test_an_audit_leaves_bytes_and_time_and_a_read_only_file_alone(tmp_path: Path) -> None:
    log = Path(shutil.copy(CLEAN, tmp_path))
    log.chmod(stat.S_IRUSR)
    stood = (log.read_bytes(), log.stat().st_mtime_ns)
    assert audit_file(log).chain == "whole"
    assert (log.read_bytes(), log.stat().st_mtime_ns) == stood
    assert [p.name for p in tmp_path.iterdir()] == [log.name]
