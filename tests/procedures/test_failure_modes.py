"""What goes wrong on such a job, each planted into a job that was clean: none of them closes clean.

The modes are common practice, no source; the sentence of each says what happens on the boat.
"""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from engine.session import commands as c
from engine.session.answers import Action, Away
from engine.session.outcome import Outcome, Refusal
from tests.procedures.playing import Job, clean_answers, ended

CLEAN = "grey-heron"


@dataclass(frozen=True)
class Mode:
    """One failure mode: its number, what happens on the boat, the step that catches it, and how it is planted."""

    number: str
    happens: str
    step: str
    plant: Callable[[Action], list[Action]]


def typed(**texts: str) -> Callable[[Action], list[Action]]:
    def plant(action: Action) -> list[Action]:
        if isinstance(action, c.Take) and action.entry in texts:
            return [replace(action, text=texts[action.entry], answer=0)]
        return [action]

    return plant


def typed_before(step: str, **texts: str) -> Callable[[Action], list[Action]]:
    """Give texts just before a step ends, those too that the clean job was never asked for."""

    def plant(action: Action) -> list[Action]:
        if isinstance(action, c.Take) and action.entry in texts:
            return []
        if isinstance(action, c.Finish) and action.step == step:
            return [*(c.Take(entry, text, 0) for entry, text in texts.items()), action]
        return [action]

    return plant


def skipped(entry: str, reason: str) -> Callable[[Action], list[Action]]:
    def plant(action: Action) -> list[Action]:
        return [c.SkipEntry(entry, reason)] if isinstance(action, c.Take) and action.entry == entry else [action]

    return plant


def without_part(part: str) -> Callable[[Action], list[Action]]:
    def plant(action: Action) -> list[Action]:
        return [] if isinstance(action, c.NamePart) and action.part == part else [action]

    return plant


def away_before(step: str) -> Callable[[Action], list[Action]]:
    def plant(action: Action) -> list[Action]:
        return [Away("supper", 3600), action] if isinstance(action, c.Finish) and action.step == step else [action]

    return plant


MODES = (
    Mode("F01", "work on a live bank", "prove-dead", typed(dead_pair="25.3")),
    Mode("F02", "the meter is dead and reads 0.00", "prove-dead", typed(known_after="0.00")),
    Mode("F03", "a second source is forgotten", "sources-off", typed(sources_off="one of them cannot be switched off")),
    Mode("F03", "a positive still on its post", "prove-dead", typed(dead_red_battery="12.6")),
    Mode("F04", "the polarity is wrong", "polarity", typed(v_polarity="-25.37")),
    Mode("F05", "plug and receptacle are mirror images", "plug-map", typed(same_map="no")),
    Mode("F06", "the wire is too small for its heat", "plan-verdict", typed(new_wire="14 AWG")),
    Mode("F07", "the wire is too small for its drop", "plan-verdict", typed(new_wire="10 AWG")),
    Mode("F10", "there is no breaker", "plan-verdict", skipped("new_breaker", "none is planned")),
    Mode("F11", "the breaker is too big for the receptacle", "plan-verdict", typed(new_breaker="80")),
    Mode("F12", "the breaker is too small", "plan-verdict", typed(new_breaker="40")),
    Mode(
        "F13",
        "the breaker is too far from the source",
        "breaker-in",
        typed_before("breaker-in", fitted_distance="2500 mm", fitted_sheathed="yes", fitted_at_battery="yes"),
    ),
    Mode("F14", "the breaker resets by itself", "plan-verdict", typed(new_breaker_reset="no")),
    Mode("F14", "the breaker cannot break a dead short", "plan-verdict", typed(new_breaker_interrupting="1000")),
    Mode("F15", "the link makes half the volts", "link-in", typed(v_bank="12.70")),
    Mode("F16", "an old battery stands with a new one", "link-in", typed(v_battery_2="12.10", v_bank="24.81")),
    Mode(
        "F17",
        "a tap is live",
        "spare-b",
        typed_before("spare-b", spare_b_negative="0.00", spare_b_positive="12.6", loaded_b_positive="12.6"),
    ),
    Mode("F17", "a tap is still on its post", "taps-off", typed(taps_removed="no")),
    Mode("F18", "a set screw is loose", "load-test", typed(mv_2="160")),
    Mode("F20", "strands are cut", "strands", typed(damage="many")),
    Mode("F20", "a strand stands across", "positions", typed(positions_found="a stray strand")),
    Mode("F21", "the wire is not home", "strip", typed(held="a screw has no copper under it")),
    Mode("F22", "the nut is not on the wire", "on-the-wire", without_part("nut")),
    Mode("F24", "the hole is cut too far", "hole", typed(hole_largest="79.5")),
    Mode("F26", "the wire is too short after the cut", "wire-free", typed(wire_lose="300 mm")),
    Mode("F31", "the contact is hot", "heat-test", typed(t_positive="88.0")),
    Mode("F32", "the load test was done in air", "load-test", typed(i_load="12.0")),
    Mode("F36", "the posts stay bare", "covers-on", typed(posts_covered="no")),
    Mode("F37", "work goes on after supper as if it were dead", "panel-out", away_before("panel-out")),
    Mode("F51", "two pairs stand in parallel", "link-in", typed(links="0", v_bank="12.70")),
    Mode("F51", "the link was in the old plug and is lost", "name-wires", typed(link_place="not found")),
    Mode(
        "F53", "a charger stands across the whole bank", "charger-map", typed(one_on_one="none of these, or not known")
    ),
    Mode("F54", "the breaker is in the negative", "breaker-in", typed(fitted_positive="no")),
)


def caught(job: Job, outcome: Outcome) -> str:
    """Return the step at which work stopped: by a STOP, said as the value was taken, or since the step did not end."""
    assert isinstance(outcome, Refusal)
    assert not job.state.over
    return job.state.halted.step if job.state.halted else str(job.at)


@pytest.mark.parametrize("mode", MODES, ids=lambda m: f"{m.number}: {m.happens}")
def test_a_planted_fault_is_caught_at_its_step_and_the_job_does_not_close(mode: Mode) -> None:
    job = Job(CLEAN)
    refused, outcome = job.play(new for action in clean_answers(CLEAN).actions for new in mode.plant(action))
    assert caught(job, outcome) == mode.step
    assert job.state.halted or refused == c.Finish(mode.step)
    assert job.problems() == []


FAULTS = tomllib.loads(Path(__file__).with_name("planted.toml").read_text(encoding="utf-8"))["fault"]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f"{f['job']}, {f['step']}, {' '.join(f['give'])}")
def test_a_fault_planted_into_another_job_is_caught_at_its_step(fault: dict[str, Any]) -> None:
    job, outcome = ended(fault["job"], fault["step"], **fault["give"])
    assert caught(job, outcome) == fault["step"]
    last = [event["entry"] for event in job.journal.events if event["event"] == "reading"][-1]
    assert not job.state.halted or last in fault["give"], "the STOP came later than the value"


def test_no_fault_is_planted_twice() -> None:
    assert [fault for n, fault in enumerate(FAULTS) if fault in FAULTS[:n]] == []
