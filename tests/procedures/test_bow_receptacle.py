"""The bow-receptacle procedure lets honest work through and stops what hurts: single steps of the whole job, played."""

from functools import cache

import pytest

from engine.finding import Finding
from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import load_answers
from engine.session.clock import GivenClock
from engine.session.judge import judge
from engine.session.outcome import Outcome, Recorded, Refusal
from engine.session.runner import Runner
from engine.shipped import find, folder


@cache
def work() -> Procedure:
    return load(find("bow-receptacle"))


def until(step: str, tmp_path_factory: pytest.TempPathFactory, **texts: str) -> tuple[Runner, Outcome]:
    """Play the clean job up to the end of ``step``, with some texts changed; more texts are given before it ends."""
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    job = Runner.start(work(), answers.start, tmp_path_factory.mktemp("s"), GivenClock(answers.began, 5))  # type: ignore[arg-type]
    own = {a.entry for a in answers.actions if isinstance(a, c.Take)}
    for action in answers.actions:
        if isinstance(action, c.Take) and action.entry in texts:
            action = c.Take(action.entry, texts[action.entry], 0)
        if isinstance(action, c.Finish) and action.step == step:
            for entry, text in texts.items():
                if entry not in own:
                    assert isinstance(job.send(c.Take(entry, text)), Recorded)
            outcome = job.send(action)
            job.close()
            return job, outcome
        if isinstance(action, c.Take | c.Finish | c.NamePart):
            assert isinstance(job.send(action), Recorded), action
    raise AssertionError(f"no step {step}")


def finding_of(job: Runner, step: str, key: str) -> Finding:
    return judge(job.procedure, job.state, job.procedure.step_by_id[step])[key]


def test_a_floating_wire_that_falls_under_a_lamp_is_dead(tmp_path_factory: pytest.TempPathFactory) -> None:
    # common practice, no source: a long damp wire shows some tenths of a volt on a 10 Mohm meter
    _, shut = until("prove-dead", tmp_path_factory, dead_red_hull="0.35", dead_loaded="0.30")
    assert isinstance(shut, Refusal)
    _, proved = until("prove-dead", tmp_path_factory, dead_red_hull="0.35", dead_loaded="0.02")
    assert isinstance(proved, Recorded)


def test_a_meter_that_fails_on_the_known_source_proves_nothing(tmp_path_factory: pytest.TempPathFactory) -> None:
    _, shut = until("prove-dead", tmp_path_factory, known_after="0.00")
    assert isinstance(shut, Refusal)
    assert "only evidence opens" in shut.sentence


def test_reversed_leads_do_not_reach_the_load_test(tmp_path_factory: pytest.TempPathFactory) -> None:
    _, shut = until("polarity", tmp_path_factory, v_polarity="-25.37")
    assert isinstance(shut, Refusal)
    assert "reversed" in shut.sentence


def test_a_live_tap_does_not_reach_the_load_test(tmp_path_factory: pytest.TempPathFactory) -> None:
    _, shut = until("spare-b", tmp_path_factory, spare_b_positive="12.6", loaded_b_positive="12.6")
    assert isinstance(shut, Refusal)
    assert "only evidence opens" in shut.sentence


def test_a_floating_tap_that_falls_under_a_lamp_is_no_obstacle(tmp_path_factory: pytest.TempPathFactory) -> None:
    # common practice, no source: a long damp wire shows volts on a 10 Mohm meter until it is loaded
    _, proved = until("spare-b", tmp_path_factory, spare_b_positive="3.1", loaded_b_positive="0.02")
    assert isinstance(proved, Recorded)


def test_the_load_test_is_held_against_the_new_pair_as_it_was_cut(tmp_path_factory: pytest.TempPathFactory) -> None:
    # worked by hand: 6 AWG, 1.345 mohm/m at 29.3 degC; 5.3 m each way, and 4.3 m each way
    planned, shorter = (
        finding_of(until("load-test", tmp_path_factory, new_out=m, new_back=m)[0], "load-test", "measured-drop")
        for m in ("5.3 m", "4.3 m")
    )
    assert planned.inputs["predicted"] == pytest.approx(0.001345 * 10.6, rel=2e-3)
    assert shorter.inputs["predicted"] == pytest.approx(0.001345 * 8.6, rel=2e-3)


def test_a_bank_that_reads_as_parallel_is_not_connected(tmp_path_factory: pytest.TempPathFactory) -> None:
    _, shut = until("link-in", tmp_path_factory, v_bank="12.70")
    assert isinstance(shut, Refusal)


def test_a_smell_of_petrol_stops_the_step(tmp_path_factory: pytest.TempPathFactory) -> None:
    _, shut = until("vapour", tmp_path_factory, smell="some")
    assert isinstance(shut, Refusal)


def test_a_breaker_in_the_negative_is_refused(tmp_path_factory: pytest.TempPathFactory) -> None:
    # 33 CFR 183.455(a): protection stands in every ungrounded conductor
    _, shut = until("breaker-in", tmp_path_factory, fitted_positive="no")
    assert isinstance(shut, Refusal)


def test_a_forgotten_nut_keeps_the_terminal_shut(tmp_path_factory: pytest.TempPathFactory) -> None:
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    job = Runner.start(work(), answers.start, tmp_path_factory.mktemp("s"), GivenClock(answers.began, 5))  # type: ignore[arg-type]
    for action in answers.actions:
        if isinstance(action, c.NamePart) and action.part == "nut":
            continue
        if isinstance(action, c.Finish) and action.step == "on-the-wire":
            refused = job.send(action)
            assert isinstance(refused, Refusal)
            assert refused.sentence == "still to see on the wire: backing nut or bezel"
            break
        if isinstance(action, c.Take | c.Finish | c.NamePart):
            job.send(action)
    assert isinstance(job.send(c.Finish("negative-in")), Refusal)
    job.close()


@pytest.mark.parametrize(
    ("step", "seen"),
    [
        ("dry-fit", {"fit_found": "nut or bezel does not bear, or no thread past the nut"}),
        ("positions", {"positions_found": "one is not as on the sheet"}),
    ],
)
def test_a_nut_without_thread_or_a_wrong_position_is_not_walked_past(
    step: str, seen: dict[str, str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    _, shut = until(step, tmp_path_factory, **seen)
    assert isinstance(shut, Refusal)
