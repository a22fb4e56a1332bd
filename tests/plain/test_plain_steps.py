"""What the plain face says on a step and what a line means there."""

from pathlib import Path

import pytest

from tests.plain.talking import begin, talk
from tests.plain.works import FIRST, SECOND, THIRD, small
from tests.session.jobs import limit, procedure, reading, step


def test_a_step_is_said_in_the_order_of_the_screen(tmp_path: Path) -> None:
    said = talk(begin(small(), tmp_path)).said[0]
    assert said == (
        "\n"
        "Step 1 of 3 - Work - next hold in 1\n"
        "first\n"
        "DANGER: It bites. Keep off.\n"
        "Do first.\n"
        "Why: A test.\n"
        "- volts\n"
        "- Copper at the cut\n"
        "volts (V, usually -100 to 100 V):\n"
    )


def test_a_value_is_echoed_after_it_is_recorded_and_the_next_one_asked(tmp_path: Path) -> None:
    said = talk(begin(small(), tmp_path), "12.5").after(0)
    assert said == (
        "recorded: 12.5 V\n[PASS +] it is as it should be (at least 12 V)\nCopper at the cut:\n  1 bright\n  2 dull\n"
    )


def test_several_values_of_a_step_stand_on_one_line(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), "12.5; bright")
    assert talked.after(0).startswith("recorded: volts: 12.5 V\nrecorded: Copper at the cut: bright\n")


def test_a_choice_is_picked_by_its_number_and_its_word_is_what_the_log_keeps(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), "12.5", "2")
    assert talked.runner.state.given["looks"].taken.raw == "dull"


REFUSED = [
    ("O.5", "  O.5\n  ^\nNot taken: This is the letter O: type the figure 0.\n"),
    ("24..9", "  24..9\n     ^\nNot taken: A number has one decimal mark, such as 24.9.\n"),
    ("1000", "Not taken: 1000 is outside what this can be: -100 to 100 V.\n"),
    ("", "Nothing was typed. Type the value; or .skip if it was not\nmeasured.\n"),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED, ids=["letter O", "two points", "out of range", "nothing"])
def test_what_is_no_value_is_refused_in_a_sentence_and_asked_again(text: str, sentence: str, tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), text)
    assert talked.after(0) == f"{sentence}volts (V, usually -100 to 100 V):\n"
    assert talked.runner.state.given == {}


def test_a_number_that_begins_with_its_point_is_a_value_and_no_command(tmp_path: Path) -> None:
    assert "recorded: 0.5 V\n" in talk(begin(small(), tmp_path), ".5").after(0)


def test_words_that_begin_with_a_dot_are_typed_with_two(tmp_path: Path) -> None:
    work = procedure(step("first", "", '\nread.says = { ask = "Says", of = "words" }'))
    talked = talk(begin(work, tmp_path), "..profile of the old plug")
    assert talked.runner.state.given["says"].taken.raw == ".profile of the old plug"


def test_an_empty_line_ends_a_plain_step_and_nothing_else_does(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), "12.5", "bright", "go", "")
    assert talked.after(2).startswith("Nothing is asked here: an empty line ends the step")
    assert "Step 2 of 3" in talked.after(3)


def test_an_empty_line_does_not_go_through_a_hold(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, "12.6", "", "yes")
    assert "second" not in talked.runner.state.done
    assert talked.after(4).startswith("This is a hold point: only the word go goes through it;")


def test_parts_are_named_by_number_and_counted(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, *SECOND, "2", "2", "9", "1")
    assert talked.after(5) == "recorded: on the wire, 1 of 2\nNumber of the part that is on the wire (1):\n"
    assert talked.after(6).startswith("Not taken: that part is already named.\n")
    assert talked.after(7).startswith("Type a number from 1 to 2.\n")
    assert talked.after(8).startswith("recorded: on the wire, 2 of 2\nType go")


def test_a_job_is_talked_through_to_closed_and_clean(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), *FIRST, *SECOND, *THIRD, "", "close")
    assert talked.status == 0
    assert "Only the word close closes it" in talked.after(8)
    assert talked.said[-1].startswith("\nclosed, clean\nHead of the log: ")


def test_a_deviation_asks_for_a_reason_and_initials_and_the_job_is_not_clean(tmp_path: Path) -> None:
    typed = ("11", "deviate", "the meter was wet", "AB", "go", *THIRD, "close")
    talked = talk(begin(small(), tmp_path), *FIRST, *typed)
    assert talked.after(3).endswith(
        "Type deviate to go on past it with a reason; or mend it: .correct\na value, or .redo the step.\n"
    )
    assert (talked.after(4), talked.after(5)) == ("Why do you go on past it?\n", "Your initials:\n")
    assert "deviation: the meter was wet (AB)" in talked.after(6)
    assert talked.status == 1


def test_a_firm_hold_that_failed_says_that_only_evidence_opens_it(tmp_path: Path) -> None:
    work = procedure(step("first", 'hold = "firm"', reading("volts") + limit("volts >= 12 V")))
    said = talk(begin(work, tmp_path), "11", "deviate").after(1)
    assert said.startswith("Only evidence opens it: .correct a value, or .redo the step.")


def test_what_is_not_measured_gives_a_reason_by_number_or_in_words(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".skip meter left at home", ".skip", "2")
    assert talked.runner.state.absent == {"volts": "meter left at home", "looks": "no light"}
    assert "recorded: not measured: meter left at home\n" in talked.after(0)


def test_a_shut_step_says_why_and_an_empty_line_goes_to_what_it_needs(tmp_path: Path) -> None:
    work = procedure(
        step("first", 'lasts = "1 min"', reading("volts")) + step("second", 'needs = ["first"]', reading("again"))
    )
    runner = begin(work, tmp_path)
    typed = ("12", "", lambda: runner.clock.pass_time(120), "1", "", ".redo", "go")  # type: ignore[attr-defined]
    talked = talk(runner, *typed)
    assert 'Shut: needs step 1, "first", again' in talked.text
    assert "This was done, and holds no longer: its readings are too old by now." in talked.flat
    assert talked.after(5).startswith("recorded: to be done again\n\nStep 1 of 2")


OFFERING = '\nread.tag = { ask = "Words on the tag", of = "words", offers = ["volts <volts>"] }'


def test_an_empty_line_takes_the_words_that_are_offered(tmp_path: Path) -> None:
    talked = talk(begin(procedure(step("first", "", reading("volts") + OFFERING)), tmp_path), "12.5", "")
    assert talked.after(0).endswith("Words on the tag (Enter alone takes: volts 12.5 V):\n")
    assert talked.after(1).startswith("recorded: volts 12.5 V\n")
    assert talked.runner.state.given["tag"].taken.raw == "volts 12.5 V"


def test_a_command_is_no_reason_for_a_value_that_was_not_measured(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".skip", ".why", "..no meter here")
    assert "That is a command. First the question" in talked.after(1)
    assert "why is it not measured?" in talked.after(0)
    assert talked.runner.state.absent["volts"] == ".no meter here"


def test_a_command_is_no_note(tmp_path: Path) -> None:
    talked = talk(begin(small(), tmp_path), ".note", ".leave", "cold hands")
    assert "That is a command." in talked.after(1)
    assert talked.after(1).endswith("Your note:\n")
    assert "recorded: your note" in talked.after(2)
