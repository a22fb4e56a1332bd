"""A pin map is one reading: taken, judged, corrected, left out and kept like any other."""

from engine.finding import Verdict
from engine.session import commands as c
from engine.session.codec import from_flat, to_flat
from engine.session.dry_run import dry_run
from engine.session.events import Taken
from engine.session.judge import judge
from engine.session.outcome import Decided
from tests.session.jobs import Session
from tests.session.mapped import mapped

SHEET = "1-left 2-right 3-ground"


def begun() -> Session:
    job = Session(mapped())
    job.give(sheet=SHEET)
    job.done("look")
    return job


def verdict(job: Session) -> Verdict:
    return judge(job.procedure, job.state, job.procedure.step_by_id["measure"])["pin-map"].verdict


def test_the_log_keeps_the_text_as_typed_and_the_map_as_understood() -> None:
    job = begun()
    job.give(map="1-le 3-g, 2-r 2-la=300")
    taken = job.state.given["map"].taken
    assert (taken.raw, taken.label) == ("1-le 3-g, 2-r 2-la=300", "1-left 2-right 2-lamp=300 3-ground")


def test_it_comes_back_from_its_block_as_it_was() -> None:
    job = begun()
    job.give(map=SHEET)
    (stamped,) = [each for each in job.events if isinstance(each.event, Taken) and each.event.entry == "map"]
    assert from_flat(to_flat(stamped)) == stamped


def test_a_map_as_on_the_sheet_opens_the_hold() -> None:
    job = begun()
    job.give(map="3-ground 2-right 1-left")
    assert verdict(job) is Verdict.PASS
    job.done("measure")


def test_another_pair_keeps_the_hold_shut_and_a_new_map_opens_it() -> None:
    job = begun()
    job.give(map=f"{SHEET} 1-ground")
    assert verdict(job) is Verdict.FAIL
    assert job.refused(c.Finish("measure"))
    job.give(map=SHEET)
    job.done("measure")


def test_a_fault_is_refused_with_its_place_and_nothing_is_recorded() -> None:
    job = begun()
    decision = job.send(c.Take("map", "1-left 2-ground 4-right"))
    assert (decision.sentence, decision.column) == ("There is no position 4 here: they are 1 to 3.", 16)
    assert "map" not in job.state.given


def test_the_sheet_that_is_corrected_has_the_map_judged_again() -> None:
    job = begun()
    job.give(map=SHEET)
    job.done("measure")
    wrong = "1-right 2-left 3-ground"
    assert isinstance(job.send(c.Correct("sheet", wrong, "read from the other side")), Decided)
    assert verdict(job) is Verdict.FAIL
    assert "measure" in job.state.rejudged or "measure" not in job.state.done


def test_a_map_that_was_not_measured_is_missing() -> None:
    job = begun()
    assert isinstance(job.send(c.SkipEntry("map", "no second person")), Decided)
    assert verdict(job) is Verdict.MISSING


def test_it_stands_in_one_line_with_other_values() -> None:
    job = begun()
    job.give(map=SHEET)
    job.done("measure")
    assert isinstance(job.send(c.TakeSeveral("after", "12.5")), Decided)
    again = begun()
    assert isinstance(again.send(c.TakeSeveral("measure", f" {SHEET} ")), Decided)


def test_a_dry_run_walks_past_it() -> None:
    (walk,) = dry_run(mapped())
    assert (walk.steps, walk.dead_end) == (["look", "measure", "after"], "")
    (row,) = [row for row in walk.rows if row.entry == "map"]
    assert [verdict for _, verdict in row.tried] == ["pass", "fail", "fail"]
