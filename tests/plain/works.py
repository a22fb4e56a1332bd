"""A small job for the plain face: a value, a hold with a limit, parts that go on first, and a close."""

from engine.procedure.model import Procedure
from tests.session.jobs import limit, procedure, reading, step

PARTS = '\nparts.plate = { name = "plate", facing = "outside away from you" }\nparts.nut = { name = "nut" }'

CHOICE = (
    '\nread.looks = { ask = "Copper at the cut", one_of = ["bright", "dull"], skip = ["covered over", "no light"] }'
)

SIGNAL = '\nwarn.DANGER = { hazard = "It bites.", avoid = "Keep off." }'


def small() -> Procedure:
    """Return a job of three steps: ``volts`` and ``looks``; a hold on ``again``; a firm hold on parts."""
    return procedure(
        step("first", "", SIGNAL + reading("volts") + CHOICE + limit("volts >= 12 V"))
        + step("second", 'hold = "hold"', reading("again") + limit("again >= 12 V"))
        + step("third", 'hold = "firm"', PARTS)
    )


FIRST = ("12.5", "bright", "")
SECOND = ("12.6", "go")
THIRD = ("1", "2", "go")
"""What passes each step."""


def wired() -> Procedure:
    """Return a job on one wire: it is lifted, proved dead, joined by hand, fed and tested."""
    hands = 'hands = "Hands off. Find what feeds it."'
    dead = f'\nlimit.dead = {{ is = \'volts <= 1 V\', says = "the wire is dead", from = "test", {hands} }}'
    mend = '\nmend.joint = { says = "Open the joint and make it again", works = ["joint"] }'
    return procedure(
        step("lift", 'isolates = ["wire"]')
        + step("dead", 'proves_dead = ["wire"]\nhold = "firm"', reading("volts") + dead)
        + step("join", 'hands_on = ["wire"]\nworks = ["joint"]', SIGNAL)
        + step("power", 'feeds = ["wire"]')
        + step("test", 'proves = ["circuit"]\nhold = "firm"', reading("drop") + limit("drop <= 1 V") + mend)
    )


TO_JOIN = ("", "0.00", "go")
"""What leads up to the step with hands on the wire."""


def spare() -> Procedure:
    """Return a job whose firm hold belongs to it only while there is a way to measure."""
    ways = '\nfact.ways = { ask = "ways", count = [0, 0, 5, 9] }'
    return procedure(
        step("count", "", ways)
        + step("spare", "hold = \"firm\"\nwhen = 'ways > 0'", reading("volts") + limit("volts <= 1 V"))
    )
