"""The commands: what they print, what they say to bad input, word for word, and their exit status."""

import json
from pathlib import Path

import pytest

from engine.rules.registry import CHECK_NAMES
from engine.shipped import folder
from tests.review.forging import ALTERED, ALTERED_AT
from tests.review.forging import CLEAN as SOBER
from tui.cli import COMMANDS, main

SAMPLES = folder("sample_sessions")
FACTS = str(SAMPLES / "grey-heron-facts.answers.toml")
DROP = ["load=48 A", "size=8 AWG", "out=5.2 m", "back=5.2 m", "nominal=24 V", "class=bow-motor"]


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUGTEST_FOLDER", str(tmp_path / "sessions"))


def test_each_command_has_help_with_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    for name in COMMANDS:
        with pytest.raises(SystemExit) as ended:
            main([name, "--help"])
        assert ended.value.code == 0
        assert "Example: tugtest" in " ".join(capsys.readouterr().out.split())


def test_list_names_each_procedure_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert any(line.startswith("bow-receptacle ") for line in lines)
    assert all(len(line) <= 100 for line in lines)


def test_a_check_as_json_carries_what_is_needed_to_believe_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "voltage-drop", *DROP, "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["verdict"] == "marginal"
    assert round(found["values"]["drop_percent"], 2) == 4.44
    assert round(found["values"]["hot_drop_percent"], 2) == 4.91
    keys = "schema check verdict values limits margin uncertainty profile conditions sentence sum sources inputs"
    assert set(keys.split()) <= set(found)
    assert found["inputs"]["insulation"] == {"value": 105.0, "assumed": True}


def test_check_alone_lists_every_check(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check"]) == 0
    said = capsys.readouterr().out
    assert [name for name in CHECK_NAMES if name not in said] == []


def test_a_check_without_inputs_explains_itself(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "ampacity"]) == 0
    said = capsys.readouterr().out
    assert "insulation" in said
    assert "33 CFR" in said


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (["check", "voltage-dorp"], 'there is no check "voltage-dorp"; did you mean "voltage-drop"?'),
        (["check", "voltage-drop", "48"], '"48" should be input=value, such as load="48 A"'),
        (["check", "fuse-load", "load=48 mm", "fuse=60"], "load=48 mm: "),
        (["check", "fuse-load", "lode=4", "fuse=60"], 'lode: fuse-load has no such input; did you mean "load"?'),
        (["plan", "bow-receptacle", "--answers", "nowhere.toml"], "nowhere.toml: "),
        (["audit", "nowhere.toml"], ""),
        (["lint"], "name a procedure file, such as: tugtest lint my-job.toml"),
        (["resume"], "there is no open session in "),
    ],
)
def test_bad_input_is_one_sentence_and_status_2(
    given: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(given) == 2
    said = capsys.readouterr()
    assert says in said.err
    assert "Traceback" not in said.err + said.out


def test_the_plan_says_the_weakest_part_one_remedy_and_what_to_buy(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "bow-receptacle", "--answers", FACTS]) == 1
    said = capsys.readouterr().out
    assert "Remedy: 6 AWG brings 4.4 % to 2.8 %, 2.9 % warm: passes" in said
    assert "of 6 AWG stranded copper" in said
    assert "2.56 times its rated" in said


def test_the_plan_as_json_holds_both_sides(capsys: pytest.CaptureFixture[str]) -> None:
    main(["plan", "bow-receptacle", "--answers", FACTS, "--json"])
    plan = json.loads(capsys.readouterr().out)
    assert plan["as_found"]["verdict"] == "fail"
    assert plan["as_planned"]["verdict"] == "marginal"
    assert plan["as_planned"]["weakest"] == "run"


def test_an_answers_file_with_faults_names_them_all(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('procedure = "bow-receptacle"\nasset = 3\nboat = "x"\ndo = [{ give = "a" }, { jump = "b" }]\n')
    assert main(["start", "bow-receptacle", "--answers", str(bad)]) == 2
    assert capsys.readouterr().err == (
        "bad.toml: boat: unknown key, the keys are schema, procedure, asset, person, profile, demo, "
        "place, clock, do\n"
        "bad.toml: asset: must be a text\n"
        'bad.toml: do[1]: lacks the key "say"\n'
        "bad.toml: do[2]: says nothing that can be done; one of give, line, not_measured, part, done, accept, deviate, "
        "correct, redo, note, away, pass_time, hand_over, profile, instrument, stop, close, "
        "follow_up would be right\n"
    )


def test_a_refused_answer_names_its_place_and_stops(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    refused = tmp_path / "refused.toml"
    action = '{ give = "motor_current", say = "O.5 A" }'
    refused.write_text(f'procedure = "bow-receptacle"\nasset = "Test Tern"\ndo = [{action}]\n')
    assert main(["start", "bow-receptacle", "--answers", str(refused)]) == 2
    assert capsys.readouterr().err == "refused.toml: do[1]: This is the letter O: type the figure 0.\n"


def test_a_folder_that_cannot_be_made_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("TUGTEST_FOLDER", str(tmp_path / "file" / "sessions"))
    assert main(["start", "bow-receptacle", "--answers", str(SAMPLES / "grey-heron-clean.answers.toml")]) == 2
    assert "choose another folder" in capsys.readouterr().err


def test_a_whole_log_audits_with_0_a_demo_with_1_and_an_altered_one_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", str(SOBER)]) == 0
    assert "whole" in capsys.readouterr().out
    assert main(["audit", str(SAMPLES / "grey-heron-clean.toml")]) == 1
    assert "a demo: a job on invented facts" in capsys.readouterr().out
    assert main(["audit", str(ALTERED)]) == 2
    assert f"altered: event {ALTERED_AT}" in capsys.readouterr().out


def test_lint_finds_no_fault_in_what_is_shipped(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["lint", "bow-receptacle"]) in (0, 1)
    assert "0 faults" in capsys.readouterr().out
