"""The bow-receptacle procedure lets honest work through and stops what hurts: single steps of the whole job, played."""

import pytest

from engine.finding import Finding
from engine.session import commands as c
from engine.session.judge import judge
from engine.session.outcome import Outcome, Recorded, Refusal
from tests.procedures.playing import Job, clean_job, ended


def until(step: str, **texts: str) -> tuple[Job, Outcome]:
    return ended("grey-heron", step, **texts)


def finding_of(job: Job, step: str, key: str) -> Finding:
    return judge(job.procedure, job.state, job.procedure.step_by_id[step])[key]


def test_a_floating_wire_that_falls_under_a_lamp_is_dead() -> None:
    # common practice, no source: a long damp wire shows some tenths of a volt on a 10 Mohm meter
    _, shut = until("prove-dead", dead_red_hull="0.35", dead_loaded="0.30")
    assert isinstance(shut, Refusal)
    _, proved = until("prove-dead", dead_red_hull="0.35", dead_loaded="0.02")
    assert isinstance(proved, Recorded)


def test_a_meter_that_fails_on_the_known_source_proves_nothing() -> None:
    _, shut = until("prove-dead", known_after="0.00")
    assert isinstance(shut, Refusal)
    assert "only evidence opens" in shut.sentence


def test_reversed_leads_do_not_reach_the_load_test() -> None:
    _, shut = until("polarity", v_polarity="-25.37")
    assert isinstance(shut, Refusal)
    assert "reversed" in shut.sentence


def test_a_live_tap_does_not_reach_the_load_test() -> None:
    _, shut = until("spare-b", spare_b_positive="12.6", loaded_b_positive="12.6")
    assert isinstance(shut, Refusal)
    assert shut.sentence.startswith("STOP: To the positive again, under a lamp or 1 kohm: 12.6 V under load on a spare")


def test_a_floating_tap_that_falls_under_a_lamp_is_no_obstacle() -> None:
    # common practice, no source: a long damp wire shows volts on a 10 Mohm meter until it is loaded
    _, proved = until("spare-b", spare_b_positive="3.1", loaded_b_positive="0.02")
    assert isinstance(proved, Recorded)


def test_the_load_test_is_held_against_the_new_pair_as_it_was_cut() -> None:
    # worked by hand: 6 AWG, 1.345 mohm/m at 29.3 degC; 5.3 m each way, and 4.3 m each way
    planned, shorter = (
        finding_of(until("load-test", new_out=m, new_back=m)[0], "load-test", "measured-drop")
        for m in ("5.3 m", "4.3 m")
    )
    assert planned.inputs["predicted"] == pytest.approx(0.001345 * 10.6, rel=2e-3)
    assert shorter.inputs["predicted"] == pytest.approx(0.001345 * 8.6, rel=2e-3)


def test_a_bank_that_reads_as_parallel_is_not_connected() -> None:
    _, shut = until("link-in", v_bank="12.70")
    assert isinstance(shut, Refusal)


def test_a_smell_of_petrol_stops_the_step() -> None:
    _, shut = until("vapour", smell="some")
    assert isinstance(shut, Refusal)


def test_a_breaker_in_the_negative_is_refused() -> None:
    # 33 CFR 183.455(a): protection stands in every ungrounded conductor
    _, shut = until("breaker-in", fitted_positive="no")
    assert isinstance(shut, Refusal)


def test_a_forgotten_nut_keeps_the_terminal_shut() -> None:
    job = clean_job("grey-heron", "on-the-wire")
    for part in job.step("on-the-wire").parts:
        if part.id != "nut":
            job.send(c.NamePart("on-the-wire", part.id))
    assert job.refused(c.Finish("on-the-wire")) == "still to see on the wire: backing nut or bezel"
    assert isinstance(job.send(c.Finish("negative-in")), Refusal)


@pytest.mark.parametrize(
    ("step", "seen"),
    [
        ("dry-fit", {"fit_found": "nut or bezel does not bear, or no thread past the nut"}),
        ("positions", {"positions_found": "one is not as on the sheet"}),
    ],
)
def test_a_nut_without_thread_or_a_wrong_position_is_not_walked_past(step: str, seen: dict[str, str]) -> None:
    _, shut = until(step, **seen)
    assert isinstance(shut, Refusal)
