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


def test_the_first_sniff_airs_first_by_the_clock_and_warns():
    waited = of_step("vapour", 'check.waited = { time = "smelt since opened", least = "10 min" }\n', "")
    assert any("sniffs before it has aired" in fault.sentence for fault in linted(waited).faults)
    unwarned = of_step("vapour", 'warn.WARNING = { hazard = "Vapour explodes.", avoid = "Air first." }\n', "")
    assert [fault.sentence for fault in linted(unwarned).faults] == [
        '"sniff" has no warning: vapour explodes; warn in this step'
    ]


def test_what_can_make_a_spark_comes_after_a_sniff():
    first = of_step("facts", 'do = "Read the labels."', 'do = "Heat the tube."')
    assert any("can make a spark, and no step before sniffs" in fault.sentence for fault in linted(first).faults)


def like(name, zones, rests_on):
    piece = f'{name} = {{ name = "{name}", rests_on = [{rests_on}] }}\n'
    step = f"""
[[section.step]]
id = "{name}"
title = "Clamp"
do = "Clamp it."
why = "So."
makes = ["{name}"]
hands_on = [{zones}]
read.moves_{name[-1]} = {{ ask = "It stays", good = "yes" }}
"""
    return piece, step


@pytest.mark.parametrize(
    ("zones", "rests_on", "lacking"),
    [('"run", "feed"', '"ends"', ""), ('"run"', '"ends"', "feed"), ('"run", "feed"', "", "ends")],
)
def test_a_step_that_says_less_than_those_like_it_is_a_doubt(zones, rests_on, lacking):
    steps = [like(name, '"run", "feed"', '"ends"') for name in ("clamp-a", "clamp-b")] + [
        like("clamp-c", zones, rests_on)
    ]
    pieces, texts = ("".join(part) for part in zip(*steps, strict=True))
    whole = 'rests_on = ["joint", "posts"] }'
    report = linted(
        ("[piece]\n", f"[piece]\n{pieces}"),
        (whole, whole.replace('"posts"', '"posts", "clamp-a", "clamp-b", "clamp-c"')),
        ('[[section.step]]\nid = "connect"', f'{texts}\n[[section.step]]\nid = "connect"'),
    )
    said = [doubt.sentence for doubt in report.doubts if 'step "clamp-c"' in doubt.where]
    assert said == ([f"says less than the steps like it: {lacking}; add it here, or in rests_on"] if lacking else [])
