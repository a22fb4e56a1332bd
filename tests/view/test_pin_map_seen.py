"""What every face shows of a pin map: a sentence for each position, what is joined, and how it is typed."""

from engine.session.state import State
from engine.view.pin_map import map_picture
from engine.view.preview import preview
from engine.view.values import hint, row
from tests.session.jobs import Session
from tests.session.mapped import mapped

JOB = mapped()
MAP = JOB.entry_by_id["map"]


def test_there_is_a_sentence_for_each_position() -> None:
    seen = map_picture(MAP, "1-left 1-right=300 2-OL 3-ground")
    assert seen is not None
    assert [each.sentence for each in seen.rows] == [
        "1 reaches left and right (300 ohm)",
        "2 reaches nothing",
        "3 reaches ground",
    ]
    assert seen.says == "2 joined (x), 1 read in ohms (r), all others open (.)"


def test_a_map_of_open_rows_says_so() -> None:
    seen = map_picture(MAP, "1-OL 2-OL 3-OL")
    assert seen is not None
    assert seen.says == "all open (.)"


def test_no_other_entry_has_a_picture() -> None:
    assert map_picture(JOB.entry_by_id["volts"], "12") is None


def test_it_is_seen_and_judged_while_it_is_typed() -> None:
    job = Session(JOB)
    job.give(sheet="1-left 2-right 3-ground")
    job.done("look")
    seen = preview(JOB, job.state, "map", "1-r 2-le 3-g")
    assert seen.echo == "3 joined (x), all others open (.)"
    assert seen.map is not None
    assert [each.sentence for each in seen.verdicts] == ["contacts 1 and 2 swapped"]


def test_a_fault_has_its_place_while_it_is_typed() -> None:
    seen = preview(JOB, State(procedure="small"), "map", "1-left 2-l")
    assert (seen.problem, seen.column) == ("l can be left or lamp: type more of it.", 9)


def test_a_given_map_is_a_row_with_its_picture() -> None:
    job = Session(JOB)
    job.give(sheet="1-le 2-r 3-g")
    given = row(JOB.entry_by_id["sheet"], job.state)
    assert (given.state, given.shown, given.raw) == ("given", "1-left 2-right 3-ground", "1-le 2-r 3-g")
    assert given.map is not None


def test_a_map_off_a_sheet_is_asked_without_ohms() -> None:
    assert hint(JOB.entry_by_id["sheet"]) == ("rows 1 to 3: 1-left, 1-OL for nothing; to left, right, ground, lamp")
    assert "Ohms belong to what is measured" in preview(JOB, State(procedure="small"), "sheet", "1-left=3").problem


def test_the_hint_says_rows_example_and_far_ends() -> None:
    assert hint(MAP) == ("rows 1 to 3: 1-left, 1-OL for nothing, 1-lamp=300 for ohms; to left, right, ground, lamp")
