"""Hands and tools: a verb that takes hold of a conductor names what it touches, a tool carries its warning."""

import pytest

from tests.procedure.sound import linted, of_step


@pytest.mark.parametrize(
    ("change", "step", "says"),
    [
        (
            of_step("crimp", 'works = ["joint"]\nhands_on = ["run", "feed"]\n', ""),
            "crimp",
            '"crimp" takes hold of a conductor and names no zone or piece',
        ),
        (
            of_step("lift-positive", 'isolates = ["feed", "run"]\n', ""),
            "lift-positive",
            '"lift" takes hold of a conductor',
        ),
        (
            of_step("crimp", 'works = ["joint"]\n', ""),
            "crimp",
            '"crimp" makes something and the step works on no piece',
        ),
        (
            of_step("crimp", 'hands_on = ["run", "feed"]\n', ""),
            "crimp",
            'has hands on "joint", as "strip" has on run; add it to hands_on',
        ),
        (
            of_step("cut", 'warn.CAUTION = { hazard = "Strands spring.", avoid = "Goggles on." }\n', ""),
            "cut",
            '"cut" has no warning: an edge',
        ),
        (of_step("cut", "warn.CAUTION", "warn.NOTICE"), "cut", '"cut" has no warning'),
        (
            of_step("lift-negative", 'warn.WARNING = { hazard = "A spanner melts.", avoid = "Watch off." }\n', ""),
            "lift-negative",
            "moves a lead of a battery and nothing warns of it",
        ),
        (
            of_step("connect", 'warn.WARNING = { hazard = "It is live from here on.", avoid = "One spanner." }\n', ""),
            "connect",
            "moves a lead of a battery and nothing warns of it",
        ),
    ],
)
def test_what_hands_do_unsaid_is_told(change, step, says):
    faults = linted(change).faults
    assert any(f'step "{step}"' in f.where and says in f.sentence for f in faults), "\n".join(map(str, faults))


@pytest.mark.parametrize(
    "action",
    ["Measure the free wire.", "Put the covers on.", "Charge ten minutes, clamp on one wire.", "Draw the panel out."],
)
def test_what_takes_hold_of_no_conductor_is_let_be(action):
    change = of_step("polarity", 'do = "Measure at the lamp\'s plug."', f'do = "{action}"')
    assert linted(change).faults == ()
