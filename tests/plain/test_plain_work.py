"""The state of the work in the plain face: STOP, a gap, a hand-over, a remedy's way, other jobs, a fail that stands."""

from pathlib import Path

from tests.plain.talking import begin, clock, talk
from tests.plain.works import TO_JOIN, spare, wired


def test_a_live_reading_says_stop_at_once_and_only_away_goes_on(tmp_path: Path) -> None:
    talked = talk(begin(wired(), tmp_path), "", "11.9", "", "go", ".redo", ".note it was the charger", "away")
    stop = (
        "\nSTOP: wanted: the wire is dead (at most 1 V).\n1 Hands off.\n2 Find what feeds it.\n"
        "Type away when your hands are away:\n"
    )
    assert talked.after(1).endswith(stop)
    assert [talked.after(line) for line in (2, 3)] == [stop, stop]
    assert talked.after(4) == f"First the question above.\n{stop}"
    assert talked.after(5) == f"recorded: your note\n{stop}"
    assert talked.after(6).startswith("Only evidence opens it: .correct a value, or .redo the step.")


def test_after_a_gap_only_the_question_is_asked_and_then_the_step_is_said_whole(tmp_path: Path) -> None:
    runner = begin(wired(), tmp_path)
    talked = talk(runner, *TO_JOIN, lambda: runner.clock.pass_time(1800), ".again", "0.02", "")  # type: ignore[attr-defined]
    asked, whole = talked.after(3), talked.after(4)
    assert "Hands off the wire until you have measured there once more." in asked
    assert "Nothing was entered for 30 min." in " ".join(asked.split())
    assert "Do join." not in asked
    assert "It bites" not in asked
    assert whole.startswith("recorded\n\nStep 3 of 5")
    assert "DANGER: It bites. Keep off.\nDo join." in whole
    assert "Step 4 of 5" in talked.after(5)


def test_who_did_not_stay_types_left_and_proves_it_dead_again(tmp_path: Path) -> None:
    runner = begin(wired(), tmp_path)
    talked = talk(runner, *TO_JOIN, lambda: runner.clock.pass_time(1800), ".again", "left", "")  # type: ignore[attr-defined]
    assert 'Shut: needs step 2, "dead", first: hands go on the wire, not proved dead.' in " ".join(
        talked.after(4).split()
    )
    assert "Step 2 of 5" in talked.after(5)


def test_volts_after_a_gap_are_a_stop_and_the_proof_says_what_ended_it(tmp_path: Path) -> None:
    runner = begin(wired(), tmp_path)
    later = (lambda: runner.clock.pass_time(1800), ".again", "12.4", "away", "")  # type: ignore[attr-defined]
    talked = talk(runner, *TO_JOIN, *later)
    assert "STOP: 12.4 V where hands go: it is not dead any more." in talked.after(4)
    assert "This was done, and holds no longer: ended by 12.4 V after a gap of 30 min. Do it again." in " ".join(
        talked.after(6).split()
    )


def test_a_hand_over_says_which_proof_is_made_again(tmp_path: Path) -> None:
    talked = talk(begin(wired(), tmp_path), *TO_JOIN, ".person B. Second", "", ".person B. Second", "go", "")
    way = "Proved dead again, before hands go on (1 step):\n  2 dead - proves dead\n"
    assert talked.after(3) == f"{way}Type go to do it; an empty line leaves it as it is:\n"
    assert talked.after(4).startswith("Nothing is changed.\n")
    assert talked.after(6).startswith("recorded: B. Second goes on from here\n")
    assert "and its dead proof ended by the hand-over" in " ".join(talked.after(6).split())
    assert "ended by the hand-over. Do it again." in " ".join(talked.after(7).split())


def test_a_remedy_says_its_whole_way_before_it_begins(tmp_path: Path) -> None:
    talked = talk(begin(wired(), tmp_path), *TO_JOIN, "", "", "1.5", ".redo", "1", "go")
    remedies = '  1 Open the joint and make it again (5 steps)\n  2 nothing is opened, only "test" again (1 step)\n'
    assert talked.after(6) == f"What will the hands do?\n{remedies}Its number (empty: nothing):\n"
    assert talked.after(7).startswith(
        "Open the joint and make it again (5 steps):\n  1 lift - makes safe\n  2 dead - proves dead\n"
        "  3 join - hands on\n  4 power - feeds\n  5 test - proof\n"
    )
    assert talked.after(8).startswith("recorded: to be done again\n\nStep 1 of 5")


def test_what_another_job_holds_dead_is_said_and_asked_before_it_is_fed(tmp_path: Path) -> None:
    talk(begin(wired(), tmp_path), *TO_JOIN)
    other = begin(wired(), tmp_path, clock())
    talked = talk(other, *TO_JOIN, "", "", "2", "", "1")
    said = '"A small job" of A. Tester is open on this boat and holds dead: the wire'
    assert said in " ".join(talked.said[0].split())
    assert said in " ".join(talked.after(2).split())
    question = f"{said}. Is anybody at it? 1 nobody is at it: feed it 2 leave it as it is"
    assert question in " ".join(talked.after(4).split())
    assert "Not taken: left as it is: nothing is fed while somebody has hands on it." in " ".join(
        talked.after(5).split()
    )
    assert "Step 5 of 5" in talked.after(7)


def test_a_close_over_a_fail_that_stands_names_it_before_and_after(tmp_path: Path) -> None:
    talked = talk(begin(spare(), tmp_path), "1", "", "12.5", ".correct ways", "0", "there is none", "go", "", "close")
    told = "Failed, and never measured good again:\n  spare: wanted: it is as it should be (at most 1 V)\n"
    assert f"Closing - not clean: 1 fail standing\n{told}" in talked.text
    assert talked.said[-1].startswith(f"\nclosed, not clean\n{told}")
    assert talked.status == 1


def test_where_says_each_zone_and_todo_what_is_left(tmp_path: Path) -> None:
    talked = talk(begin(wired(), tmp_path), ".where", "", "0.00", "go", ".where", ".todo")
    assert talked.after(0).startswith("Where is power, where are my hands:\n  the wire: live\n")
    assert "the wire: dead, proved less than a min ago; hands may go here\n" in talked.after(4)
    assert talked.after(5).startswith("Nothing is left to do but the steps.\n")
