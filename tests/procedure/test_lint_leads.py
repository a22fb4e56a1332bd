"""Leads of a battery: each that comes off isolates as the others do, each that goes on feeds."""

import pytest

from tests.procedure.sound import linted, of_step

OFF = 'isolates = ["feed", "run"]'


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (of_step("lift-positive", OFF, 'isolates = ["feed"]'), "lift-positive", "and run is not among its zones"),
        (of_step("connect", 'feeds = ["feed", "run"]\n', ""), "connect", "lands a lead of a battery and feeds no zone"),
        (of_step("connect", 'feeds = ["feed", "run"]', 'feeds = ["feed"]'), "connect", "run is not among its zones"),
        (
            of_step("facts", 'do = "Read the labels."', 'do = "Turn the main switch off."'),
            "facts",
            "takes a source off and isolates no zone",
        ),
        (
            of_step("facts", 'do = "Read the labels."', 'do = "Isolate the charger."'),
            "facts",
            "takes a source off and isolates no zone",
        ),
    ],
)
def test_a_lead_that_says_too_little_is_told(change, where, says):
    faults = linted(change).faults
    assert any(where in f.where and says in f.sentence for f in faults), "\n".join(map(str, faults))


@pytest.mark.parametrize(
    "action", ["Turn the switch to ON, all loads off.", "Turn the nut tight.", "Read it with all off."]
)
def test_what_takes_no_source_off_is_let_be(action):
    assert linted(of_step("facts", 'do = "Read the labels."', f'do = "{action}"')).faults == ()
