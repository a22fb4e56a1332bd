"""What once went through unseen, tried in every shipped job in which it can be: what is said now."""

from collections.abc import Iterator
from html import escape
from pathlib import Path

import pytest

from engine.review.audit import audit_file
from engine.review.page.render import page
from engine.review.report import report_lines
from engine.review.row import row_of
from engine.session import commands as c
from engine.session import events as e
from engine.session.boat import isolated
from engine.session.gates import applicable
from engine.session.outcome import Asked, Recorded, Refusal, answered
from engine.view.closing import closing_view
from engine.view.preview import preview
from engine.view.step import step_view
from tests.procedures.playing import CLEAN, Job, before_hands, clean_job
from tui.plain.lines import closing_lines

NAMES = tuple(CLEAN)
HOUR_S = 3600.0


def done_since(job: Job, count: int) -> list[str]:
    """Return the steps that were ended since so many events, in their order."""
    return [event["step"] for event in job.journal.events[count:] if event["event"] == "step_done"]


# 1. A wire that is cut again, after both its ends were made.

MADE_AGAIN = {
    "bilge-float": ("cut", "on-the-wire crimp-auto pull-auto crimp-pump pull-pump crimp-minus pull-minus polarity"),
    "bow-receptacle": ("cut", "strip strands negative-in negative-proof positive-in positive-proof polarity load-test"),
    "harness-splice": ("cut", "on-the-wire splice-a pull-a splice-b pull-b splice-c pull-c shrink map loaded"),
    "main-switch": ("cut", "lugs-fuse lugs-feed lugs-load lugs-minus lugs-links torque-fuse torque-bus load-test"),
    "nav-lights": ("cut", "on-the-wire crimp-lp pull-lp crimp-ln pull-ln crimp-pp pull-pp land polarity load-test"),
    "outlet-12v": ("crimp-plus", "pull-plus shrink land mount polarity load-test heat-test"),
    "panel-swap": ("move-1", "count branch-on-1 load-test"),
    "sensor-repin": ("cut", "strip crimp-pin pull-pin pin-in lock-in map halves warm"),
    "solar-inlet": ("crimp-ip", "pull-ip shrink inlet-in inlet-mounted polarity load-test panel-drop"),
    "trailer-7": ("cut", "way-ground way-tail way-left way-right way-brake way-charge shut map functions heat-test"),
}
"""What is done again, and what an electrician makes and proves again after it: by hand, from the work itself."""


@pytest.mark.parametrize("name", NAMES)
def test_what_is_cut_again_is_made_and_proved_again_on_a_dead_wire(name: str) -> None:
    step, again = MADE_AGAIN[name]
    job = clean_job(CLEAN[name])
    redone = job.send(c.Redo(step))
    assert isinstance(redone, Recorded)
    assert isinstance(redone.events[0], e.Redone)
    assert {step, *again.split(), "prove-dead"} <= set(redone.events[0].voided)
    assert job.refused(c.Close()).startswith("still to do: ")
    assert " first: " in job.refused(c.Finish(step))
    assert job.closes_clean()
    assert job.hands_on_dead_only()


# 2. The dead proof made again, while the bank is connected.


@pytest.mark.parametrize("name", NAMES)
def test_the_dead_proof_alone_opens_nothing_while_a_source_is_on(name: str) -> None:
    job = clean_job(CLEAN[name])
    hands = next(s.id for s in job.procedure.steps if s.hands_on and s.id in job.state.done)
    job.send(c.Redo("prove-dead"))
    first = job.step(str(job.at))
    assert first.isolates
    assert not first.proves_dead
    for step in (hands, "prove-dead", "known-source"):
        job.send(c.Redo(step))
        refused = job.refused(c.Finish(step))
        assert "is not made safe" in refused, refused
        assert any(f'"{s.title}"' in refused for s in job.procedure.steps if s.isolates)
    known = job.procedure.entries_of(job.step("known-source"))[0]
    assert "is not made safe" in job.refused(c.Take(known.id, "12.6"))
    assert job.closes_clean()


# 3. A remedy that opens something.


def mends() -> Iterator[tuple[str, str, int]]:
    """Give every remedy of every step of the clean jobs."""
    for name in NAMES:
        job = clean_job(CLEAN[name])
        for step in job.procedure.steps:
            if step.id in job.state.done:
                yield from ((name, step.id, n) for n in range(1, len(step.mends) + 1))


@pytest.mark.parametrize(("name", "step", "mend"), list(mends()))
def test_what_a_remedy_opens_is_made_safe_worked_on_and_proved_again(name: str, step: str, mend: int) -> None:
    job = clean_job(CLEAN[name])
    own = {piece for done in job.state.done for piece in job.step(done).works}
    opened = own.intersection(job.step(step).mends[mend - 1].works)
    before = job.journal.count
    job.send(c.Redo(step, mend))
    assert job.closes_clean()
    again = [job.step(one) for one in done_since(job, before)]
    for piece in opened:
        worked = [n for n, one in enumerate(again) if piece in one.works]
        proved = [n for n, one in enumerate(again) if piece in one.proves]
        assert worked
        assert proved[-1] >= worked[-1]
    assert step in {one.id for one in again}
    assert job.hands_on_dead_only()


def signs() -> Iterator[tuple[str, str, str]]:
    """Give every reading of a sign in the clean jobs, with its step."""
    for name in NAMES:
        job = clean_job(CLEAN[name])
        for step in job.procedure.steps:
            volts = [check.inputs["volts"].ids[0] for check in step.checks if check.name == "polarity"]  # type: ignore[union-attr]
            here = {entry.id for entry in job.procedure.entries_of(step)}
            yield from ((name, step.id, v) for v in volts if v in here and step.id in job.state.done)


@pytest.mark.parametrize(("name", "step", "entry"), list(signs()))
def test_a_reversed_sign_is_a_stop_and_what_is_opened_is_proved_again(name: str, step: str, entry: str) -> None:
    job = clean_job(CLEAN[name], step)
    job.until_asked(entry)
    assert isinstance(job.give(**{entry: "-12.61"}), Recorded)
    assert job.state.halted is not None
    assert "-12.61 V: reversed" in job.state.halted.sentence
    assert job.refused(c.Finish(step)).startswith("STOP: ")
    job.send(c.HandsOff())
    job.send(c.Redo(step, 1 if job.step(step).mends else 0))
    assert job.closes_clean()
    assert job.hands_on_dead_only()


# 4. A fail of a firm hold, whose step drops out of the job by a corrected fact.

DROPPED = [
    ("grey-heron", "spare-a", {"spare_a_negative": "12.5", "loaded_a_negative": "12.5"}, {"taps": "0"}),
    ("grey-heron", "spare-b", {"spare_b_negative": "12.5", "loaded_b_negative": "12.5"}, {"taps": "1"}),
    ("curlew", "third-polarity", {"v_third": "-12.6"}, {"third": "not used"}),
    (
        "dunlin",
        "orphan-volts",
        {"orphan_negative": "12.6", "orphan_loaded": "12.6"},
        {"orphans": "0", "wires_over": "0", "wires_landed": "14"},
    ),
]


@pytest.mark.parametrize(("asset", "step", "texts", "facts"), DROPPED)
def test_a_live_wire_does_not_go_away_by_a_corrected_fact(
    asset: str, step: str, texts: dict[str, str], facts: dict[str, str], tmp_path: Path
) -> None:
    job = clean_job(asset, step)
    job.texts = texts
    stopped = job.on(step)
    assert isinstance(stopped, Refusal)
    job.send(c.HandsOff())
    for fact, says in facts.items():
        assert isinstance(job.send(c.Correct(fact, says, "counted again", 0)), Recorded)
    assert step not in [s.id for s in applicable(job.procedure, job.state)]
    job.texts = {}
    assert isinstance(job.on(), Recorded)
    assert (job.state.closed, job.state.clean, job.problems()) == (True, False, [])
    (named,) = job.runner.state.unmended.values()
    told = f"{job.step(step).title}: {named.sentence}"
    assert job.journal.events[-1]["standing"] == [told]
    found = audit_file(job.log(tmp_path))
    assert found.ended == "closed, not clean"
    assert f"    {told}" in report_lines(found)
    assert escape(told) in page(found)
    assert row_of(found).first_bad == f"{step}: fail, never measured good again: {named.sentence}"
    assert closing_view(job.procedure, job.state, "").standing == (told,)
    assert told in "\n".join(closing_lines(closing_view(job.procedure, job.state, ""), demo=False)).replace("\n  ", " ")


# 6. A source connected again, and somebody else at the load test.

CONNECTED_AGAIN = {
    "bilge-float": ("connect", "polarity load-test"),
    "bow-receptacle": ("connect", "polarity load-test heat-test"),
    "harness-splice": ("loads-in", "functions feel loaded"),
    "main-switch": ("positives-on", "polarity load-test"),
    "nav-lights": ("connect", "polarity load-test truth"),
    "outlet-12v": ("connect", "polarity load-test heat-test"),
    "panel-swap": ("connect", "polarity diagonal load-test"),
    "sensor-repin": ("connect", "warm"),
    "solar-inlet": ("connect", "load-test panel-drop"),
    "trailer-7": ("battery-on", "functions heat-test"),
}
"""What is landed again, and what is measured again after it: by hand."""


@pytest.mark.parametrize("name", NAMES)
def test_what_is_landed_again_is_measured_again_and_not_ended_with_old_readings(name: str) -> None:
    landed, measured = CONNECTED_AGAIN[name]
    job = clean_job(CLEAN[name])
    job.send(c.Redo(landed))
    assert isinstance(job.on(landed), Recorded)
    for step in measured.split():
        assert step not in job.state.done
        assert not {entry.id for entry in job.procedure.entries_of(job.step(step))} & set(job.state.given)
    assert job.closes_clean()


@pytest.mark.parametrize("name", NAMES)
def test_handing_over_ends_the_proof_of_what_hands_are_still_to_go_on_and_no_other(name: str) -> None:
    job, step = before_hands(name)
    handed = job.send(c.HandOver("D. Fen"))
    assert isinstance(handed, Recorded)
    assert "prove-dead" in handed.events[0].ended  # type: ignore[union-attr]
    assert "its dead proof ended by the hand-over" in job.refused(c.Finish(step.id))
    live = clean_job(CLEAN[name], CONNECTED_AGAIN[name][1].split()[-1])
    handed = live.send(c.HandOver("D. Fen"))
    assert isinstance(handed, Recorded)
    assert handed.events[0].ended == []  # type: ignore[union-attr]
    assert live.closes_clean()


# 7. A live reading among those that are to prove it dead.


def points() -> Iterator[tuple[str, str]]:
    """Give every reading of a clean job that is to prove something dead."""
    for asset in (*CLEAN.values(), "curlew", "bittern"):
        job = clean_job(asset)
        for step in job.procedure.steps:
            found = [check.inputs["points"] for check in step.checks if check.name == "dead"]
            ids = dict.fromkeys(i for operand in found for i in operand.ids)  # type: ignore[union-attr]
            yield from ((asset, i) for i in ids if i in job.state.given)


@pytest.mark.parametrize(("asset", "entry"), list(points()))
@pytest.mark.parametrize("volts", ["11.9", "-11.9"])
def test_a_live_point_is_a_stop_while_it_is_typed_and_the_moment_it_is_taken(
    asset: str, entry: str, volts: str
) -> None:
    job = clean_job(asset, clean_job(asset).procedure.step_of_entry[entry])
    job.until_asked(entry)
    typed = preview(job.procedure, job.state, entry, volts)
    assert [v.verdict for v in typed.verdicts if f"{volts} V: live" in v.sentence] == ["fail"]
    taken = job.give(**{entry: volts})
    assert isinstance(taken, Recorded)
    assert isinstance(taken.events[-1], e.Halted)
    assert f"{volts} V: live" in taken.events[-1].sentence
    assert taken.events[-1].hands.startswith("Hands off.")
    for command in (c.Take(entry, "0.00"), c.Finish(str(job.at)), c.Redo("known-source"), c.Close()):
        assert job.refused(command).startswith("STOP: ")
    assert isinstance(job.send(c.HandsOff()), Recorded)
    assert isinstance(job.give(**{entry: "0.00"}), Recorded)
    again = job.give(**{entry: volts})
    assert isinstance(again, Recorded)
    assert isinstance(again.events[-1], e.Halted), "the second time it is said too"
    assert job.problems() == []


# 8. Two jobs open on one boat.


def aboard(job: Job, folder: Path, name: str) -> Job:
    """Make the job a real one on the boat of these tests, with its log in a folder."""
    opened = {**job.journal.events[0], "demo": False, "asset": name}
    job.journal.events[0] = opened
    job.state.demo, job.state.asset = False, name
    job.journal.path = job.log(folder)
    return job


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_fed_unasked_while_another_job_holds_it_dead(name: str, tmp_path: Path) -> None:
    other, _ = before_hands("bow-receptacle" if name != "bow-receptacle" else "main-switch")
    held = aboard(other, tmp_path, "Sea  Wren")
    landed = clean_job(CLEAN[name]).procedure.steps
    feeds = next(s for s in landed if s.feeds and s.id in clean_job(CLEAN[name]).state.done)
    job = aboard(clean_job(CLEAN[name], feeds.id), tmp_path, "sea wren")
    (seen,) = job.runner.others()
    assert seen.sentence.startswith(f'"{held.procedure.title}" of {held.state.person} is open on this boat and holds')
    assert isolated(held.procedure, held.state)
    assert all(zone in seen.sentence for zone in isolated(held.procedure, held.state))
    shown = step_view(job.procedure, job.state, feeds.id, job.clock.now(), job.runner.others)
    assert shown.beside == (seen.sentence,)
    first = c.Take(job.asked()[0].id, job.text_of(job.asked()[0].id)) if job.asked() else c.Finish(feeds.id)
    count = job.journal.count
    asked = job.send(first)
    assert isinstance(asked, Asked)
    assert asked.question.sentence == f"{seen.sentence}. Is anybody at it?"
    assert isinstance(job.send(answered(asked, 1)), Refusal)
    assert job.journal.count == count
    fed = job.send(answered(asked, 0))
    assert isinstance(fed, Recorded)
    assert [type(event) for event in fed.events[:2]] == [e.OthersTold, e.Fed]
    assert fed.events[0] == e.OthersTold(step=feeds.id, jobs=[seen.sentence])
    assert isinstance(job.on(feeds.id), Recorded), "it is asked once"
    assert job.problems() == []


def test_a_job_on_another_boat_one_that_is_over_and_a_demo_are_not_told_of(tmp_path: Path) -> None:
    job = aboard(clean_job("tern-14", "connect"), tmp_path, "Sea Wren")
    aboard(before_hands("main-switch")[0], tmp_path, "Blue Tern")
    demo, over = before_hands("main-switch")[0], before_hands("main-switch")[0]
    demo.log(tmp_path)
    over.send(c.Stop("the cable is too short", "rings off, tagged"))
    aboard(over, tmp_path, "Sea Wren")
    assert job.runner.others() == ()
    assert isinstance(job.on("connect"), Recorded)
