"""A small job with one pin map, held against the map by the sheet."""

from engine.procedure.model import Procedure
from tests.session.jobs import procedure, reading, step

POSITIONS = 'positions = ["1", "2", "3"], far = ["left", "right", "ground", "lamp"]'
SHEET = f'fact.sheet = {{ ask = "Map by the sheet", of = "pin map", known = "label", {POSITIONS} }}'
MAP = f"""
read.map = {{ ask = "What each contact reaches", of = "pin map", {POSITIONS} }}
check.pin-map = {{ found = "map", plan = "sheet", leads = "0.3 ohm", unplugged = "yes" }}
"""


def mapped() -> Procedure:
    """Return a job of three steps: the sheet, the map on a hold, a value after it."""
    return procedure(
        step("look", "", SHEET)
        + step("measure", 'hold = "hold"\nneeds = ["look"]', MAP)
        + step("after", 'needs = ["measure"]', reading("volts")),
    )
