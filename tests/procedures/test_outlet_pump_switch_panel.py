"""Outlet, bilge pump, main switch and panel: honest work goes on, and a check stands before what cannot be undone."""

import pytest

from engine.procedure.load import load
from engine.procedure.model import Hold
from engine.session import commands as c
from engine.session.outcome import Recorded, Refusal
from engine.shipped import find
from tests.procedures.playing import CLEAN, clean_job, ended

HONEST = [
    # common practice, no source: what a careful person does, in other words than the clean job has
    ("plover", "auto-alone", {"others": "only what is meant to stay on"}),
    ("plover", "auto-alone", {"others": "no main switch aboard"}),
    ("plover", "afloat", {"keeps_up": "ashore"}),
    ("plover", "afloat", {"water_in": "rises slowly"}),
    ("dunlin", "orphan-volts", {"orphan_negative": "0.35", "orphan_loaded": "0.02"}),
    ("sandpiper", "route", {"cut_length": "990 mm"}),
    ("tern-14", "land", {"contacts": "the meter"}),
]


@pytest.mark.parametrize(("asset", "step", "texts"), HONEST, ids=lambda v: v if isinstance(v, str) else " ".join(v))
def test_honest_work_goes_on(asset: str, step: str, texts: dict[str, str]) -> None:
    assert isinstance(ended(asset, step, **texts)[1], Recorded)


TOO_LARGE = {"enters": "is too large for the cut-out", "line_height": "125 mm"}


def test_a_cut_that_the_front_would_not_cover_is_refused_before_the_cut() -> None:
    # project rule: 3 mm of cover all round; the front is 180 mm wide
    _, refused = ended("dunlin", "body-fit", **TOO_LARGE, line_width="176 mm")
    assert isinstance(refused, Refusal)
    assert "3 mm all round" in refused.sentence


def test_a_cut_that_the_front_covers_may_be_made() -> None:
    assert isinstance(ended("dunlin", "body-fit", **TOO_LARGE, line_width="172 mm")[1], Recorded)


def test_an_end_that_holds_its_volts_under_a_lamp_keeps_the_branches_shut() -> None:
    _, refused = ended("dunlin", "orphan-volts", orphan_negative="12.6", orphan_loaded="12.4")
    assert isinstance(refused, Refusal)
    assert "only evidence opens" in refused.sentence


BEFORE = [
    ("outlet-12v", "saw-size", "pilot"),
    ("outlet-12v", "pilot-look", "saw"),
    ("outlet-12v", "fuse-in", "polarity"),
    ("bilge-float", "wire-left", "cut"),
    ("bilge-float", "water-over", "load-test"),
    ("main-switch", "route", "cut"),
    ("main-switch", "switch-on", "load-test"),
    ("panel-swap", "body-fit", "open-cut-out"),
    ("panel-swap", "feed-fuse-in", "polarity"),
]


@pytest.mark.parametrize(("name", "first", "then"), BEFORE)
def test_one_step_waits_for_the_other(name: str, first: str, then: str) -> None:
    job = clean_job(CLEAN[name], first)
    steps = [step.id for step in job.procedure.steps]
    for step in steps[steps.index(first) + 1 : steps.index(then) + 1]:
        for entry in job.procedure.entries_of(job.step(step)):
            job.give(**{entry.id: "yes"})
        job.send(c.Finish(step))
    assert then not in job.state.done


@pytest.mark.parametrize("name", ["outlet-12v", "bilge-float", "main-switch", "panel-swap"])
def test_every_joint_of_copper_is_pulled_or_tightened_before_the_batteries_are_on(name: str) -> None:
    procedure = load(find(name))
    ids = [step.id for step in procedure.steps]
    on = ids.index("positives-on" if name == "main-switch" else "connect")
    proofs = [s.id for s in procedure.steps[:on] if {c.name for c in s.checks} & {"pull", "torque"}]
    made = [i for i in ids[:on] if i.startswith(("crimp-", "lugs-", "move-", "stud-", "holder-ends"))]
    assert made
    for joint in made:
        short = joint.split("-", 1)[1]
        assert joint in proofs or {f"pull-{short}", f"torque-{short}"} & set(proofs)


@pytest.mark.parametrize("name", ["outlet-12v", "bilge-float", "main-switch", "panel-swap"])
def test_the_sign_is_proved_firmly_before_any_load(name: str) -> None:
    procedure = load(find(name))
    ids = [step.id for step in procedure.steps]
    assert procedure.step_by_id["polarity"].hold is Hold.FIRM
    assert ids.index("polarity") < ids.index("load-test")
