"""Leaving the plain face and coming back to it: nothing recorded is lost, and what was left is said first."""

import io
import os
import signal
from pathlib import Path

import pytest

from engine.session.clock import GivenClock
from engine.session.runner import Runner
from engine.session.scan import read_log
from tests.plain.talking import Talk, begin, clock, talk
from tests.plain.works import FIRST, SECOND, THIRD, small
from tests.session.jobs import procedure, reading, step
from tui.plain.face import PlainFace
from tui.plain.voice import Voice


def events_of(talked: Talk) -> list[str]:
    return [str(event["event"]) for event in read_log(talked.runner.path).events]


def again(talked: Talk, after_s: float) -> Runner:
    when = clock()
    when.pass_time(after_s)
    return Runner.resume(talked.runner.path, when)


def test_the_end_of_the_input_leaves_and_keeps_what_was_recorded(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), "12.5")
    assert talked.status == 0
    assert events_of(talked)[-1] == "left"
    assert [str(e.get("entry")) for e in read_log(talked.runner.path).events if e["event"] == "reading"] == ["volts"]


def test_leaving_with_a_line_records_it_once(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".leave left hand wire still loose")
    assert events_of(talked).count("left") == 1
    assert read_log(talked.runner.path).events[-1]["line"] == "left hand wire still loose"


def test_coming_back_after_a_break_says_the_line_and_the_last_values_before_the_step(tmp_path: Path) -> None:
    left = talk(begin(small(), tmp_path), "12.5", ".leave nut still loose")
    back = talk(again(left, 3600))
    assert back.said[0] == (
        "A small job - Test Tern - away for 1 hour\n"
        "You wrote: nut still loose\n"
        "Recorded last:\n"
        "  volts: 12.5 V\n"
        "Look at the last two of these on the boat before you go on.\n"
        'Next: step 1 of 3, "first"\n'
        "Type go to go on, or the name of the person who goes on from here:\n"
    )


def test_coming_back_waits_for_the_word_go_and_then_asks_what_was_asked(tmp_path: Path) -> None:
    back = talk(again(talk(begin(small(), tmp_path), "12.5"), 3600), "", "go")
    assert "Step 1" not in back.after(0)
    assert back.after(1).endswith("+ volts: 12.5 V\n- Copper at the cut\n"
                                  "[PASS +] it is as it should be (at least 12 V)\n"
                                  "Copper at the cut:\n  1 bright\n  2 dull\n")  # fmt: skip


def test_a_short_break_goes_straight_on(tmp_path: Path) -> None:
    back = talk(again(talk(begin(small(), tmp_path), "12.5"), 60))
    assert "Copper at the cut:\n  1 bright" in back.said[0]


def test_another_person_takes_over_by_name(tmp_path: Path) -> None:
    back = talk(again(talk(begin(small(), tmp_path), "12.5"), 3600), "B. Second", "go")
    assert back.runner.state.person == "B. Second"


def test_help_and_a_note_work_before_going_on(tmp_path: Path) -> None:
    back = talk(again(talk(begin(small(), tmp_path), "12.5"), 3600), ".note it rained in", ".plan")
    assert back.after(0).startswith("recorded: your note\n")
    assert back.after(1).startswith("First the question above.\n")


def test_evidence_that_did_not_last_is_named_to_be_proved_again(tmp_path: Path) -> None:
    work = procedure(
        step("dead", 'proves_dead = ["wire"]', reading("volts")) + step("next", 'hands_on = ["wire"]', reading("again"))
    )
    back = talk(again(talk(begin(work, tmp_path / "a"), "0", ""), 3600))
    doubted = "dead proof, step 1: in doubt, nothing was entered for 60 min; you are asked before hands go on"
    assert f"To prove again: {doubted}" in back.flat
    back = talk(again(talk(begin(work, tmp_path / "b"), "0", ""), 5 * 3600))
    assert "To prove again: dead proof, step 1: ended by a gap of 5 h; prove it dead again" in back.flat


def test_a_closed_job_is_shown_and_asks_nothing(tmp_path: Path) -> None:
    closed = talk(begin(small(), tmp_path), *FIRST, *SECOND, *THIRD, "close")
    back = talk(again(closed, 60))
    assert back.status == 0
    assert back.text.startswith("\nclosed, clean\n")


@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are of POSIX systems")
def test_ctrl_c_while_a_line_is_waited_for_leaves(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), "12.5", lambda: os.kill(os.getpid(), signal.SIGINT), "bright")
    assert talked.status == 0
    assert events_of(talked)[-1] == "left"
    assert "looks" not in talked.runner.state.given


@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are of POSIX systems")
def test_ctrl_c_while_an_entry_is_written_waits_until_it_is_recorded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    runner = begin(small(), tmp_path)
    write = runner.send

    def send(command: object) -> object:
        os.kill(os.getpid(), signal.SIGINT)
        return write(command)  # type: ignore[arg-type]

    monkeypatch.setattr(runner, "send", send)
    talked = talk(runner, "12.5", "bright")
    assert list(talked.runner.state.given) == ["volts"]
    found = read_log(runner.path)
    assert found.state == "whole"
    assert [e["event"] for e in found.events][-3:] == ["reading", "finding", "left"]


def test_a_disk_that_refuses_asks_for_another_folder_and_the_chain_goes_on_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from engine.session.trouble import NotRecorded

    runner = begin(small(), tmp_path / "full")
    full = runner._journal

    def append(events: object) -> None:
        raise NotRecorded("the disk is full; the entry is not in the log")

    monkeypatch.setattr(full, "append", append)
    talked = talk(runner, "12.5", "again", str(tmp_path / "stick"), "yes")
    assert talked.after(0).startswith("NOT RECORDED: the disk is full; the entry is not in the log\nType again")
    assert "stickisnotthere.Typeyestomakeit:" in "".join(talked.after(2).split())
    assert "recorded: 12.5 V" in talked.after(3)
    assert runner.path.parent == tmp_path / "stick"
    assert read_log(runner.path).state == "whole"


def test_a_word_that_is_no_folder_makes_none_without_a_yes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from engine.session.trouble import NotRecorded

    def append(events: object) -> None:
        raise NotRecorded("the disk is full; the entry is not in the log")

    (tmp_path / "here").mkdir()
    runner = begin(small(), tmp_path / "full")
    monkeypatch.setattr(runner._journal, "append", append)
    monkeypatch.chdir(tmp_path / "here")
    talked = talk(runner, "12.5", "what", "no", "")
    assert talked.after(2).count("NOT RECORDED: the disk is full") == 1
    assert "recorded: 12.5 V" not in talked.text
    assert list((tmp_path / "here").iterdir()) == []


def test_a_line_that_is_no_text_is_asked_again() -> None:
    outlet = io.StringIO()
    voice = Voice(io.StringIO("caf\udce9\nx" + "y" * 5000 + "\n12.5\n"), outlet)
    assert voice.hear() == "12.5"
    assert outlet.getvalue() == (
        "Nothing was taken: the line is no readable text. Type it again:\n"
        "Nothing was taken: the line is longer than 2000 signs. Type a shorter one:\n"
    )


def test_a_bounced_enter_ends_no_step_at_a_terminal(tmp_path: Path) -> None:
    ticks = iter([0.0, 5.0, 10.0, 10.1, 20.0, 25.0])
    talked = talk(begin(small(), tmp_path), "12.5", "bright", "", "", seconds=lambda: next(ticks, 99.0), by_hand=True)
    assert "That came too soon" in talked.text
    assert "first" in talked.runner.state.done


def test_a_face_on_a_thread_works_without_the_signal(tmp_path: Path) -> None:
    from threading import Thread

    statuses: list[int] = []
    runner = begin(small(), tmp_path)
    face = PlainFace(runner, Voice(io.StringIO("12.5\n"), io.StringIO()))
    thread = Thread(target=lambda: statuses.append(face.run()))
    thread.start()
    thread.join()
    assert statuses == [0]
    assert isinstance(runner.clock, GivenClock)
