"""Checks and the circuit: what is fed twice or by a constant, a dead check that proves nothing, a hold that is lax."""

import pytest

from tests.procedure.sound import linted, of_step

POINTS = 'check.dead.points = ["v_feed", "v_tap", "v_pair", "v_hull"]'
AFTER = 'read.known_after = { ask = "Known source, after", V = [-100, 5, 28, 100] }\n'
BEFORE = 'read.known_before = { ask = "Known source, before", V = [-100, 5, 28, 100] }\n'
PAIR = 'read.v_pair = { ask = "Across the two wires", V = [-100, -0.1, 0.1, 100] }\n'


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (
            of_step("load-test", 'at_load = "v_load"', 'at_load = "v_source"'),
            "check.measured-drop, at_load",
            "v_source fills source and at_load; each takes a reading of its own",
        ),
        (
            of_step("prove-dead", 'known_after = "known_after"', 'known_after = "known_before"'),
            "check.dead, known_after",
            "known_before fills known_before and known_after",
        ),
        (
            of_step("prove-dead", '"v_pair", "v_hull"]', '"v_pair", "v_pair"]'),
            "check.dead, points",
            "v_pair fills points and points",
        ),
        (
            of_step("load-test", 'at_load = "v_load"', 'at_load = "12.4 V"'),
            "check.measured-drop, at_load",
            '"12.4 V" stands where a reading belongs',
        ),
        (of_step("pull", 'slip = "slip"', 'slip = "no"'), "check.pull, slip", '"no" stands where a reading belongs'),
        (
            of_step("load-test", 'rated = "amps"', 'rated = "5 A"'),
            "check.measured-drop, rated",
            '"5 A" stands where a reading belongs',
        ),
        (
            of_step("prove-dead", POINTS, 'check.dead.points = ["v_feed"]'),
            "check.dead, points",
            "has fewer than two points",
        ),
        (
            of_step("prove-dead", 'hold = "firm"\n', ""),
            'step "prove-dead"',
            'has a dead check, which only evidence opens; write hold = "firm"',
        ),
        (
            of_step("polarity", 'hold = "firm"\n', ""),
            'step "polarity"',
            "has a polarity check, which only evidence opens",
        ),
        (
            of_step("load-test", 'hold = "hold"\n', ""),
            'step "load-test"',
            'which the work must not go past unseen; write hold = "hold"',
        ),
        (
            of_step("plan-verdict", 'hold = "hold"\n', ""),
            'step "plan-verdict"',
            "has a plan check, which the work must not go past unseen",
        ),
    ],
)
def test_what_decides_a_check_wrongly_is_told(change, where, says):
    faults = linted(change).faults
    assert any(where in fault.where and says in fault.sentence for fault in faults), "\n".join(map(str, faults))


def moved(row, before, of="prove-dead"):
    """Return the change that puts a row of a step before another row."""
    whole = of_step(of, row, row)[0]
    return whole, whole.replace(row, "").replace(before, row + before)


def test_the_known_source_is_measured_after_the_points():
    (fault,) = linted(moved(AFTER, PAIR)).faults
    assert fault.where == 'step "prove-dead", check.dead, known_after'
    assert fault.sentence == "known_after is not taken after the points; let it be the last reading here"


def test_the_known_source_is_measured_before_the_points():
    early = [
        of_step("known", BEFORE, BEFORE.replace("known_before", "v_other")),
        of_step("prove-dead", PAIR, PAIR + BEFORE),
    ]
    faults = linted(*early).faults
    assert "known_before is not taken before the points; take it before the first of them" in [
        f.sentence for f in faults
    ]


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (
            ('out = "run_out"', 'out = "5 m"'),
            "circuit.wire, found.out",
            '"5 m" decides the plan for every boat; ask for it',
        ),
        (('fitted = "fuse"', 'fitted = "10 A"'), "circuit.fuse, found.fitted", '"10 A" decides the plan'),
        (('current = "amps"', 'current = "5 A"'), "circuit.lamp, found.current", '"5 A" decides the plan'),
        (
            ('back = "run_back"', 'back = "run_out"'),
            "circuit.wire, found.back",
            "one length is counted as out and as back",
        ),
    ],
)
def test_a_part_of_the_circuit_that_the_file_decides_is_a_doubt(change, where, says):
    report = linted(change)
    assert report.status == 1
    (doubt,) = [doubt for doubt in report.doubts if says in doubt.sentence]
    assert doubt.where == where
    assert doubt.line > 16


def test_volts_and_current_of_different_minutes_are_a_doubt():
    row = 'read.i_load = { ask = "Current", A = [0.05, 0.5, 20, 60], group = "load" }'
    (doubt,) = linted(of_step("load-test", row, row.replace(', group = "load"', ""))).doubts
    assert doubt.where == 'step "load-test", check.measured-drop'
    assert doubt.sentence == "takes i_load, v_source, v_load at times of their own; give them one group"


def test_a_polarity_without_its_sign_is_told():
    (fault,) = linted(of_step("polarity", ", signed = true", "")).faults
    assert fault.where == 'step "polarity", check.polarity, volts'
    assert "may be typed without its sign" in fault.sentence
