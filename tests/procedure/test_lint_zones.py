"""Zones under hands: each way in which one can be live or unproved is told at its step."""

import pytest

from tests.procedure.sound import SOUND, linted, of_step

KNOWN_BEFORE = ("read.known_before", 'read.v_zebra = { ask = "Z", V = [-100, -0.1, 0.1, 100] }\nread.known_before')


def test_a_sound_job_has_neither_fault_nor_doubt():
    report = linted()
    assert (report.faults, report.doubts) == ((), ())


@pytest.mark.parametrize(
    ("changes", "step", "says"),
    [
        (
            [
                of_step("lift-negative", '["feed", "run"]', '["feed"]'),
                of_step("lift-positive", '["feed", "run"]', '["feed"]'),
            ],
            "cut",
            'hands go on "run" and no step isolates it before; name it in what isolates it',
        ),
        (
            [
                of_step("connect", 'feeds = ["feed", "run"]', 'feeds = ["feed"]'),
                of_step("cut", 'works = ["ends"]', 'works = ["ends"]\nfeeds = ["run"]'),
            ],
            "strip",
            'hands go on "run" and no step isolates it before after "cut" feeds it; name it in what isolates it',
        ),
        (
            [of_step(s, 'proves_dead = ["feed", "run"]', 'proves_dead = ["run"]') for s in ("known", "prove-dead")]
            + [of_step("feed-volts", 'proves_dead = ["feed"]', "")],
            "crimp",
            'hands go on "feed" and no step proves it dead before; measure where hands go',
        ),
        (
            [of_step("prove-dead", 'proves_dead = ["feed", "run"]', 'proves_dead = ["run"]')],
            "feed-volts",
            'proves "feed" dead, and no step of this proof has a dead check; give it check.dead',
        ),
        (
            [of_step("prove-dead", '"v_feed", ', "")],
            "feed-volts",
            'and no volts of it are judged; add them to the points of the dead check of "prove-dead"',
        ),
        (
            [of_step("known", 'proves_dead = ["feed", "run"]', 'proves_dead = ["run"]')],
            "known",
            'belongs to the dead proof of "prove-dead", and this step does not prove it; add proves_dead: feed',
        ),
        (
            [of_step("tap-volts", 'proves_dead = ["run"]\n', "")],
            "tap-volts",
            'v_tap belongs to the dead proof of "prove-dead", and this step does not prove it',
        ),
        (
            [of_step("connect", 'feeds = ["feed", "run"]', 'feeds = ["feed"]')],
            "lift-positive",
            'leaves "run" dead in some job, and it is to be left live; let a later step feed it',
        ),
        ([of_step("crimp", 'takes = "45 min"', 'takes = "6 h"')], "crimp", "2 h at most"),
    ],
)
def test_what_is_unsafe_is_told_at_its_step(changes, step, says):
    found = [fault for fault in linted(*changes).faults if f'step "{step}"' in fault.where and says in fault.sentence]
    assert found, "\n".join(linted(*changes).lines())
    assert found[0].line > SOUND[: SOUND.index('id = "lift-negative"')].count("\n")


AGAIN = """
[[section.step]]
id = "off-again"
title = "Fuse out"
do = "Pull the fuse out."
why = "Hands go back."
isolates = ["run"]
proves_dead = ["run"]
read.v_again = { ask = "At the lamp", V = [-100, -0.1, 0.1, 100] }
limit.again = { is = "abs(v_again) <= 0.1 V", says = "it reads nothing" }

[[section.step]]
id = "shrink"
title = "Shrink"
do = "Shrink the tube."
why = "Water stays out."
makes = ["tube"]
hands_on = ["run"]
warn.WARNING = { hazard = "Heat.", avoid = "Shield." }
read.glue = { ask = "Glue shows", good = "yes" }

[[section.step]]
id = "on-again"
title = "Fuse in"
do = "Put the fuse in."
why = "It is done."
feeds = ["run"]
"""

END = ('check.measured-drop.nominal = "nominal"\n', 'check.measured-drop.nominal = "nominal"\n' + AGAIN)


TUBE = (
    'posts = { name = "the posts" }',
    'posts = { name = "the posts" }\ntube = { name = "the tube", rests_on = ["joint"] }',
)


def test_a_zone_that_was_fed_is_isolated_and_proved_once_more_by_a_limit():
    assert linted(TUBE, END).faults == ()
    for lost, says in (
        ('isolates = ["run"]\nproves_dead', "no step isolates it before after"),
        ('proves_dead = ["run"]\nread.v_again', "no step proves it dead before after"),
        ("abs(v_again) <= 0.1 V", "no volts of it are judged"),
    ):
        kept = {"isolates": "proves_dead", "proves_dead": "read.v_again", "abs": "abs(v_again) <= 50 V"}
        new = kept[lost.split(" ")[0].split("(")[0]]
        faults = linted(TUBE, (END[0], END[1].replace(lost, new))).faults
        assert any(says in fault.sentence for fault in faults), (lost, faults)


def test_a_zone_that_nobody_touches_is_a_doubt():
    (doubt,) = linted(
        ('run = { name = "the run"', 'mast = { name = "the mast", left = "dead" }\nrun = { name = "the run"')
    ).doubts
    assert (doubt.where, doubt.line) == ("zone.mast", 11)


def test_two_steps_of_one_name_are_told_and_nothing_more():
    (fault,) = linted(of_step("strip", 'id = "strip"', 'id = "cut"')).faults
    assert '"cut" is taken by the step' in fault.sentence
