"""Starting, going on with, playing and looking after sessions by command."""

import json
import os
import re
from pathlib import Path

import pytest

from engine.session.clock import SystemClock
from engine.session.runner import Runner
from engine.session.scan import read_log
from engine.session.shelf import state_of
from engine.shipped import shipped
from tests.cli.running import CLEAN, FACTS, Tugtest

FIRST = "48 A\n24\ntwo-wire\nno\n\n"
"""What passes the first step of the bow receptacle."""


def given(log: Path) -> dict[str, str]:
    return {entry: got.taken.raw for entry, got in state_of(read_log(log)).given.items()}


# Start


def test_start_asks_for_the_boat_the_person_and_the_rules_when_no_boat_is_named(tugtest: Tugtest) -> None:
    ran = tugtest("start", "bow-receptacle", typed="\nTest Tern\nA. Tester\n2\n\n48 A\n")
    state = state_of(read_log(tugtest.logs()[0]))
    assert (state.asset, state.person, state.profile) == ("Test Tern", "A. Tester", "federal")
    assert ran.out.startswith(
        "Bow-motor receptacle swap\nWhich boat or trailer is it?\n"
        "Nothing was typed. The log is kept under this name: type one, such as Grey Heron.\n"
        "Which boat or trailer is it?\n"
        "Who works on it? (may be left empty)\nWhich rules judge this job?\n  1 "
    )


def test_what_is_no_number_of_the_list_is_asked_again(tugtest: Tugtest) -> None:
    ran = tugtest("start", "bow-receptacle", typed="Test Tern\nA. Tester\n4\n2\n48 A\n")
    state = state_of(read_log(tugtest.logs()[0]))
    assert (state.profile, state.given["motor_current"].taken.raw) == ("federal", "48 A")
    assert ran.out.count("That is no number from 1 to 3.") == 1


def test_start_without_any_answer_begins_nothing(tugtest: Tugtest) -> None:
    assert tugtest("start", "bow-receptacle").status == 2
    assert tugtest.logs() == []


def test_start_says_first_and_last_where_the_log_is(tugtest: Tugtest) -> None:
    ran = tugtest("start", "bow-receptacle", "--asset", "Test Tern", typed="48 A\n")
    (log,) = tugtest.logs()
    assert ran.status == 0
    assert ran.out.startswith(f"Log: {log}\n")
    assert ran.out.endswith(f"Left. Everything recorded is in the log; tugtest resume goes on.\nLog: {log}\n")


def test_an_unknown_profile_begins_nothing(tugtest: Tugtest) -> None:
    ran = tugtest("start", "bow-receptacle", "--asset", "Test Tern", "--profile", "hause")
    assert (ran.status, ran.err) == (2, 'there is no rule profile "hause"; there are federal, house, industry\n')
    assert tugtest.logs() == []


def test_a_procedure_of_ones_own_with_faults_says_them_all(tugtest: Tugtest, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('schema = 1\nid = "own"\ntitel = "Own"\n')
    ran = tugtest("start", str(own), "--asset", "Test Tern")
    assert ran.status == 2
    assert 'own.toml: line 3, titel: is not a key here; did you mean "title"?' in ran.err
    assert len(ran.err.splitlines()) > 3


def test_a_procedure_that_is_no_toml_says_its_first_fault_with_the_line(tugtest: Tugtest, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('schema = 1\ntitle = "Own\n')
    ran = tugtest("start", str(own), "--asset", "Test Tern")
    assert ran.status == 2
    assert ran.err.startswith("own.toml: line 2")
    assert ran.err.count("\n") == 1


def test_a_folder_that_is_a_file_is_refused_in_a_sentence(tugtest: Tugtest, tmp_path: Path) -> None:
    (tmp_path / "sessions").write_text("in the way")
    ran = tugtest("start", "bow-receptacle", "--asset", "Test Tern")
    assert ran.status == 2
    assert "choose another folder" in ran.err


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the administrator may write anywhere")
def test_a_folder_that_cannot_be_written_is_refused_in_a_sentence(tugtest: Tugtest, tmp_path: Path) -> None:
    (tmp_path / "sessions").mkdir(mode=0o500)
    ran = tugtest("start", "bow-receptacle", "--asset", "Test Tern")
    assert ran.status == 2
    assert "choose another folder" in ran.err


# Played answers


def test_played_answers_close_a_job_and_say_where_it_is(tugtest: Tugtest) -> None:
    ran = tugtest("start", "bow-receptacle", "--answers", CLEAN)
    (log,) = tugtest.logs()
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines()[0] == str(log)
    assert ran.out.splitlines()[1].startswith(f"closed, clean, {len(read_log(log).events)} events, head ")


def test_what_the_command_line_says_stands_over_the_answers_file(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--answers", FACTS, "--asset", "Test Tern", "--profile", "house")
    state = state_of(read_log(tugtest.logs()[0]))
    assert (state.asset, state.profile) == ("Test Tern", "house")


def answers(folder: Path, *did: str) -> str:
    path = folder / "mine.toml"
    path.write_text(f'procedure = "bow-receptacle"\nasset = "Test Tern"\ndo = [{", ".join(did)}]\n')
    return str(path)


def test_a_refused_action_is_named_by_its_number_and_what_stood_is_kept(tugtest: Tugtest, tmp_path: Path) -> None:
    did = ('{ give = "motor_current", say = "48 A" }', '{ give = "nominal", say = "2.4.0" }', '{ note = "later" }')
    ran = tugtest("start", "bow-receptacle", "--answers", answers(tmp_path, *did))
    assert ran.status == 2
    assert ran.err.startswith("mine.toml: do[2]: A number has one decimal mark")
    assert given(tugtest.logs()[0]) == {"motor_current": "48 A"}


def test_a_stopped_job_ends_with_status_1(tugtest: Tugtest, tmp_path: Path) -> None:
    did = '{ stop = "the hull is cracked", state = "all off" }'
    ran = tugtest("start", "bow-receptacle", "--answers", answers(tmp_path, did))
    assert ran.status == 1
    assert ran.out.splitlines()[1].startswith("stopped, 2 events, head ")


# Going on


def test_resume_goes_on_with_the_one_open_session(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--asset", "Test Tern", typed="48 A\n")
    ran = tugtest("resume", typed="24\n")
    assert ran.status == 0
    assert "Volts the motor is made for" in ran.out
    assert given(tugtest.logs()[0]) == {"motor_current": "48 A", "nominal": "24"}


PLAN = r"\[DEMO\] Step \d+ of \d+ - Plan - hold point"


def test_a_demo_lives_apart_from_the_jobs(tugtest: Tugtest) -> None:
    assert re.search(PLAN, tugtest("demo").out)
    assert tugtest.logs() == []
    assert tugtest("resume").err.startswith("there is no open session")
    assert tugtest("home").out.startswith("Begin")


def test_the_open_demo_is_gone_on_with_until_a_new_one_is_asked_for(tugtest: Tugtest) -> None:
    tugtest("demo")
    assert tugtest("demo", typed="a\nwire is bought\nA.B.\n").out.endswith(tugtest("demo").out.splitlines()[-1] + "\n")
    assert len(list((tugtest.folder / "demo").glob("*.toml"))) == 1
    assert re.search(PLAN, tugtest("demo", "--new").out)
    assert len(list((tugtest.folder / "demo").glob("*.toml"))) == 2


def test_a_demo_that_another_window_has_open_is_left_to_it(tugtest: Tugtest) -> None:
    tugtest("demo")
    (log,) = (tugtest.folder / "demo").glob("*.toml")
    elsewhere = Runner.resume(log, SystemClock())
    assert re.search(PLAN, tugtest("demo").out)
    elsewhere.close()
    assert len(list((tugtest.folder / "demo").glob("*.toml"))) == 2


def test_several_open_sessions_are_listed_with_the_command_for_each(tugtest: Tugtest) -> None:
    for asset in ("Test Tern", "Second Tern"):
        tugtest("start", "bow-receptacle", "--asset", asset, typed="48 A\n")
    ran = tugtest("resume")
    assert (ran.status, ran.out) == (2, "")
    lines = ran.err.splitlines()
    assert lines[0] == "2 sessions are open; tugtest alone lists them to choose by a digit, or name one:"
    assert sorted(lines[1:]) == sorted(f"  tugtest resume {log}" for log in tugtest.logs())


def test_a_log_is_also_found_by_its_name_in_the_folder(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--asset", "Test Tern", typed="48 A\n")
    assert tugtest("resume", tugtest.logs()[0].name).status == 0


def test_no_open_session_and_no_such_log_are_said(tugtest: Tugtest) -> None:
    assert tugtest("resume").err == f"there is no open session in {tugtest.folder}; tugtest start begins one\n"
    assert tugtest("resume", "none.toml").err == "none.toml cannot be written: no such file or directory\n"


def test_a_damaged_log_is_not_gone_on_with_and_left_as_it_is(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--asset", "Test Tern", typed=FIRST)
    (log,) = tugtest.logs()
    log.write_bytes(log.read_bytes().replace(b'raw = "48 A"', b'raw = "38 A"'))
    stood = log.read_bytes()
    ran = tugtest("resume", str(log))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"{log.name}: altered: event 2, at byte ")
    assert ran.err.count("\n") == 1
    assert log.read_bytes() == stood


# Looking after


def test_the_first_screen_leads_into_a_new_job_and_into_an_open_one(tugtest: Tugtest) -> None:
    number = [path.stem for path in shipped()].index("bow-receptacle") + 1
    tugtest(typed=f"{number}\nTest Tern\n\n\n\n48 A\n")
    assert given(tugtest.logs()[0]) == {"motor_current": "48 A"}
    assert "Volts the motor is made for" in tugtest("home", typed="1\n").out


def test_dated_looks_are_listed_with_the_command_that_answers_and_answered(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--answers", CLEAN)
    (log,) = tugtest.logs()
    listed = tugtest("due")
    assert listed.status == 1
    assert f'\n  tugtest due --answer {log.name} first-day "..."\n' in listed.out
    assert [each["item"] for each in json.loads(tugtest("due", "--json").out)] == ["first-day", "first-month"]
    for item in ("first-day", "first-month"):
        assert tugtest("due", "--answer", log.name, item, "cool and tight").out == f"recorded in {log.name}: {item}\n"
    assert tugtest("due").out == f"Nothing is left to look at in {tugtest.folder}.\n"
    assert tugtest("audit", str(log)).status == 1  # it is a demo


def test_an_answer_to_no_dated_look_is_refused(tugtest: Tugtest) -> None:
    tugtest("start", "bow-receptacle", "--answers", CLEAN)
    log = tugtest.logs()[0].name
    ran = tugtest("due", "--answer", log, "first-week", "cool")
    assert (ran.status, ran.err) == (2, f'{log}: there is no dated look "first-week" in this job\n')
