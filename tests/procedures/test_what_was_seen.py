"""What once went through unseen, tried in every shipped job in which it can be: what is said now."""

from collections.abc import Iterator

import pytest

from engine.session import commands as c
from engine.session import events as e
from engine.session.outcome import Recorded
from tests.procedures.playing import CLEAN, Job, clean_job

NAMES = tuple(CLEAN)
HOUR_S = 3600.0


def done_since(job: Job, count: int) -> list[str]:
    """Return the steps that were ended since so many events, in their order."""
    return [event["step"] for event in job.journal.events[count:] if event["event"] == "step_done"]


def hands_after_proof(job: Job, count: int) -> bool:
    """Return whether every step with hands on a zone, done since, came after one that takes a source off and one
    that proves that very zone dead, both done since.
    """
    off, dead = set[str](), set[str]()
    for step in map(job.step, done_since(job, count)):
        off |= set(step.isolates)
        dead = (dead | (set(step.proves_dead) & off)) - set(step.feeds)
        off -= set(step.feeds)
        if not dead.issuperset(step.hands_on):
            return False
    return True


def closes_clean(job: Job) -> bool:
    """Do what is asked to the end; return whether the job closed clean and the audit has nothing against it."""
    outcome = job.on()
    assert isinstance(outcome, Recorded), outcome
    return job.state.clean and job.problems() == []


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
    before = job.journal.count
    redone = job.send(c.Redo(step))
    assert isinstance(redone, Recorded)
    assert isinstance(redone.events[0], e.Redone)
    assert {step, *again.split(), "prove-dead"} <= set(redone.events[0].voided)
    assert job.refused(c.Close()).startswith("still to do: ")
    assert " first: " in job.refused(c.Finish(step))
    assert closes_clean(job)
    assert hands_after_proof(job, before)


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
        assert any(f'"{each.title}"' in refused for each in job.procedure.steps if each.isolates)
    known = job.procedure.entries_of(job.step("known-source"))[0]
    assert "is not made safe" in job.refused(c.Take(known.id, "12.6"))
    assert closes_clean(job)


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
    assert closes_clean(job)
    again = [job.step(one) for one in done_since(job, before)]
    for piece in opened:
        worked = [n for n, one in enumerate(again) if piece in one.works]
        proved = [n for n, one in enumerate(again) if piece in one.proves]
        assert worked
        assert proved[-1] >= worked[-1]
    assert step in {one.id for one in again}
    assert hands_after_proof(job, before)


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
    before = job.journal.count
    job.send(c.Redo(step, 1 if job.step(step).mends else 0))
    assert closes_clean(job)
    assert hands_after_proof(job, before)
