"""Changing what was recorded in the plain face: what follows is said first; only the word go does it."""

from pathlib import Path

from tests.plain.talking import begin, talk
from tests.plain.works import FIRST, small


def test_a_correction_is_picked_by_number_and_says_what_must_be_done_again(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, ".correct", "1", "12.8", "read the wrong scale", "go")
    assert talked.after(3) == (
        "Which value:\n  1 volts: 12.5 V\n  2 Copper at the cut: bright\nIts number, or a word of another one:\n"
    )
    assert talked.after(4) == "Stands in the log: volts: 12.5 V. It stays there.\nThe right value:\n"
    assert talked.after(6) == (
        "Judged anew, and only ended again (1 step):\n  1 first\nType go to do it; an empty line leaves it as it is:\n"
    )
    assert talked.runner.state.given["volts"].taken.raw == "12.8"
    assert "first" not in talked.runner.state.done


def test_a_correction_is_found_by_a_word_or_by_its_id(tmp_path: Path) -> None:
    by_word = talk(begin(small(), tmp_path / "a"), *FIRST, ".correct copper", "1", "dull", "it was dull", "go")
    by_id = talk(begin(small(), tmp_path / "b"), *FIRST, ".correct looks", "dull", "it was dull", "go")
    for talked in (by_word, by_id):
        assert talked.runner.state.given["looks"].taken.raw == "dull"


def test_anything_but_go_changes_nothing(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, ".correct volts", "12.8", "read the wrong scale", "", ".redo", "y")
    assert talked.runner.state.given["volts"].taken.raw == "12.5"
    assert talked.after(6).startswith("Nothing is changed.\n")


def test_a_right_value_that_cannot_be_read_is_refused_and_the_old_one_stands(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, ".correct volts", "12..8", "read the wrong scale")
    assert "Not taken: A number has one decimal mark" in talked.after(5)
    assert talked.runner.state.given["volts"].taken.raw == "12.5"


def test_a_word_that_no_value_has_corrects_nothing(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, ".correct rudder")
    assert talked.after(3).startswith("No value that was given has that word.\nNothing is corrected.\n")


def test_doing_a_step_again_opens_it(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, ".back", ".redo", "go")
    assert talked.after(5).startswith("recorded: to be done again\n\nStep 1 of 3")
    assert talked.runner.state.given == {}


def test_back_looks_at_a_done_step_and_an_empty_line_goes_forward_again(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".back", *FIRST, ".back", "")
    assert talked.after(0).startswith("This is the first step.\n")
    assert talked.after(4).endswith("This step is done. An empty line goes on; .redo does it again:\n")
    assert "Step 2 of 3" in talked.after(5)


def test_other_rules_are_chosen_by_name_and_an_unknown_name_is_refused(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".profile hous", ".profile house", "go")
    assert talked.after(0).startswith(
        'Not taken: there is no rule profile "hous"; there are federal,\nhouse, industry.\n'
    )
    assert talked.runner.state.profile == "house"


def test_a_photo_is_copied_beside_the_log(tmp_path: Path) -> None:
    photo = tmp_path / "old plug.jpg"
    photo.write_bytes(b"not really a picture")
    talked = talk(begin(small(), tmp_path / "s"), f".attach {photo}", f".attach {tmp_path / 'none.jpg'}")
    assert talked.after(0).startswith("recorded: old-plug.jpg\n")
    assert talked.after(1).startswith("Not taken: none.jpg cannot be attached: No such file or directory.\n")
    assert (talked.runner.path.with_suffix("") / "old-plug.jpg").read_bytes() == photo.read_bytes()


def test_a_job_is_stopped_with_a_reason_and_how_it_is_left(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".stop", "short", "all off", ".stop", "the hull is cracked", "all off")
    assert "Not taken: say in 10 characters or more why it cannot go on." in talked.text
    assert talked.status == 1
    assert "stopped, unfinished: the hull is cracked" in talked.said[-1]


def test_a_word_that_is_no_command_is_said_and_help_lists_them_all(tmp_path: Path) -> None:
    from tui.plain.wishes import WISHES

    talked = talk(begin(small(), tmp_path), ".undo", ".help")
    assert talked.after(0).startswith('".undo" is not known here; .help says what can be typed.\n')
    assert [word for word in WISHES if word != "help" and f"  .{word} " not in talked.after(1)] == []
