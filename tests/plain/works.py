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
