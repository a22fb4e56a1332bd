"""The state of the work, on a small job whose zones and pieces are plain to see."""

from datetime import UTC, datetime, timedelta

import pytest

from engine.session import commands as c
from engine.session.apply import apply
from engine.session.decide import decide
from engine.session.decide_work import route_of
from engine.session.events import Halted, HandsOff, Stamped
from engine.session.gates import current_step
from engine.session.outcome import Decided, Refusal
from engine.session.state import State
from engine.session.work import Relations, zone_state
from tests.session.small_work import SMALL, job, step

BEGAN = datetime(2026, 5, 2, 9, tzinfo=UTC)


class Bench:
    """A session in memory: commands go in, a minute passes by each."""

    def __init__(self, procedure=SMALL):
        self.procedure, self.state, self.now = procedure, State(), BEGAN
        self.send(c.Start("Boat", "Ann"))

    def send(self, command, after_s=60.0):
        self.now += timedelta(seconds=after_s)
        decision = decide(self.procedure, self.state, command, self.now)
        if isinstance(decision, Decided):
            for event in decision.events:
                apply(self.state, Stamped(self.state.count + 1, self.now.isoformat(), 0.0, event))
        return decision

    def through(self, last):
        """Do steps in working order, up to and with ``last``."""
        while (at := current_step(self.procedure, self.state, self.now)) is not None:
            found = self.send(c.Finish(at))
            assert isinstance(found, Decided), found
            if at == last:
                return self
        return self


def refused(found):
    assert isinstance(found, Refusal), found
    return found.step


def test_the_job_goes_through_in_working_order_and_closes_clean():
    bench = Bench().through("load")
    closed = bench.send(c.Close())
    assert closed.events[-1].clean
    assert [zone_state(SMALL, bench.state, z) for z in ("feed", "run")] == ["live", "live"]


def test_a_wire_cut_again_asks_for_all_that_rests_on_its_end_and_for_a_dead_zone():
    bench = Bench().through("load")
    assert route_of(SMALL, bench.state, "cut") == [
        "lift", "known", "dead-feed", "dead-run", "cut", "strip", "clamp", "pull", "connect", "polarity", "load",
    ]  # fmt: skip
    bench.send(c.Redo("cut"))
    assert current_step(SMALL, bench.state, bench.now) == "lift"
    assert refused(bench.send(c.Close())) == "lift"
    assert refused(bench.send(c.Finish("cut"))) == "lift"


def test_before_anything_is_fed_a_step_done_again_leaves_the_dead_proof_alone():
    bench = Bench().through("pull")
    assert route_of(SMALL, bench.state, "cut") == ["cut", "strip", "clamp", "pull"]


def test_the_dead_proof_alone_opens_nothing_once_the_zone_is_fed():
    bench = Bench().through("connect")
    redone = bench.send(c.Redo("dead-feed"))
    assert redone.events[0].voided == ["lift", "known", "dead-feed", "dead-run", "connect"]
    assert refused(bench.send(c.Finish("dead-feed"))) == "lift"
    bench.send(c.Redo("breaker-in"))
    assert refused(bench.send(c.Finish("breaker-in"))) == "lift"


def test_each_zone_under_hands_has_a_proof_of_its_own():
    work = Relations(SMALL, SMALL.steps)
    assert work.provers("breaker-in", "feed") == ("known", "dead-feed")
    assert work.provers("cut", "run") == ("known", "dead-run")
    assert work.undone_by("dead-run") == {"known", "dead-feed"}  # one proof: the known source, the points, the source


def test_a_remedy_that_opens_a_joint_leads_through_making_safe_the_work_and_its_proofs():
    bench = Bench().through("polarity")
    mended = bench.send(c.Redo("polarity", mend=1)).events[0]
    assert mended.mend == "Change the two wires over"
    assert mended.voided == ["lift", "known", "dead-feed", "dead-run", "clamp", "pull", "connect", "polarity"]
    assert isinstance(bench.send(c.Redo("lift", mend=2)), Refusal)


def test_a_reading_is_evidence_only_while_it_is_younger_than_what_it_rests_on():
    bench = Bench().through("load")
    assert bench.send(c.Redo("polarity")).events[0].voided == ["polarity", "load"]


@pytest.mark.parametrize(
    ("step_done", "gap_min", "doubted", "ended"),
    [
        ("dead-run", 19, None, None),
        ("dead-run", 21, ["known", "dead-feed", "dead-run"], []),
        ("dead-run", 241, [], ["known", "dead-feed", "dead-run"]),
        ("strip", 39, None, None),  # the clamp says that it may take 40 minutes
        ("strip", 41, ["known", "dead-feed", "dead-run"], []),
        ("known", 21, [], ["known"]),  # half a proof does not wait
        ("pull", 21, ["known", "dead-feed", "dead-run"], []),
        ("connect", 9000, None, None),  # what is fed has no proof that could age
    ],
)
def test_a_gap_in_the_entries_is_a_gap_whatever_filled_it(step_done, gap_min, doubted, ended):
    bench = Bench().through(step_done)
    found = bench.send(c.Note("", "still here"), gap_min * 60.0).events
    lapsed = [(event.doubted, event.ended) for event in found[:-1]]
    assert lapsed == ([] if doubted is None else [(doubted, ended)])


def test_who_stayed_takes_one_reading_and_who_reads_volts_proves_it_again_whole():
    bench = Bench().through("dead-run")
    assert "once more" in bench.send(c.Finish("cut"), 1800.0).sentence
    bench.send(c.Leave("lunch"))
    bench.send(c.Return())
    assert "measure the run once more" in bench.send(c.Finish("cut")).sentence
    assert isinstance(bench.send(c.StayedWith("0.02")), Decided)
    assert isinstance(bench.send(c.Finish("cut")), Decided)
    bench.send(c.Note("", "wind"), 1800.0)
    stayed = bench.send(c.StayedWith("12.4"))
    assert isinstance(stayed.events[-1], Halted)
    assert "STOP" in bench.send(c.Finish("strip")).sentence
    assert isinstance(bench.send(c.HandsOff()).events[0], HandsOff)
    assert refused(bench.send(c.Finish("strip"))) == "known"


def test_handing_over_ends_the_dead_proof_and_nothing_once_all_is_fed():
    bench = Bench().through("pull")
    assert bench.send(c.HandOver("Bo")).events[0].ended == ["known", "dead-feed", "dead-run"]
    assert Bench().through("connect").send(c.HandOver("Bo")).events[0].ended == []
    assert Bench().through("load").send(c.HandOver("Bo")).events[0].ended == []


def test_a_zone_left_otherwise_than_the_procedure_says_is_no_end():
    dead_end = job(*(s for s in SMALL.steps if s.id != "connect"))
    bench = Bench(dead_end).through("load")
    assert refused(bench.send(c.Close())) == "lift"
    assert step("x").touches is False
