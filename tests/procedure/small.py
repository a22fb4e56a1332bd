"""A small procedure and its block, whole and free of doubt: what the tests of this folder change in one place each."""

from engine.procedure.faults import ProcedureFaults
from engine.procedure.load import load_text
from engine.procedure.model import Procedure

SMALL = """\
schema = 2
id = "small-job"
title = "A small job"
revision = "1"
summary = "one line"
scope = "a test"
profile = "industry"

[source]
barrel = { authority = "standard", document = "a standard", place = "5.2", seen = "read" }

[zone]
run = { name = "the run", left = "live" }

[piece]
end = { name = "the stripped end" }
joint = { name = "the joint", rests_on = ["end"] }

[circuit.run]
# run
kind = "wire"
name = "run to the bow"
found = { size = "wire_size", out = "5.2 m", back = "5.2 m", engine_space = "no" }
planned = { size = "#6" }

[[section]]
id = "make-safe"
title = "Make safe"

[[section.step]]
id = "plan"
title = "The plan"
do = "Read the plan."
why = "It says what to buy."
hold = "hold"
fact.motor_current = { ask = "Current of the new motor", A = [5, 30, 60, 120] }
fact.wire_size = { ask = "Size printed on the wire", of = "wire" }
fact.taps = { ask = "Are there taps", of = "yes/no" }
fact.barrel_depth = { ask = "Depth of the barrel", mm = [5, 10, 20, 40] }
check.plan = {}

[[section.step]]
borrow = "prove-dead"
fill = { nominal = "12 V", points = ["pair", "hull"] }

[[section]]
id = "work"
title = "Work"

[[section.step]]
id = "strip"
title = "Strip"
do = "Strip the end."
why = "Copper must reach the end."
hold = "hold"
hands_on = ["run"]
works = ["end"]
proves = ["end"]
takes = "45 min"
lasts = "12 h"
leaves = { wire = "bare" }
opens = { covers = "covers back on the posts" }
warn.CAUTION = { hazard = "Cut strands spring.", avoid = "Wear goggles." }
read.strip_length = { ask = "Bare length", mm = [0, 8, 20, 60], by = "cal" }
read.strands = { ask = "Strands", one_of = ["whole", "nicked", "cut"], good = ["whole"], bearable = ["nicked"] }
limit.length = { is = "strip_length >= barrel_depth - 1 mm", says = "copper must reach the end of the barrel", from = "barrel" }
# the limit above is one row

[[section.step]]
id = "covers-on"
title = "Covers on"
do = "Put the covers on."
why = "A dropped tool must find no metal."
works = ["joint"]
closes = ["covers"]
due.first-day = { says = "feel the plug", after = "1 day" }
mend.strip = { says = "Strip it again", works = ["end"] }
"""  # noqa: E501

BLOCK = """\
schema = 2
id = "prove-dead"
title = "Prove it dead"

[parameters]
nominal = "volts of the known source"
points = "the readings that must be dead"
needs = { says = "steps that come before", default = "" }

[[step]]
id = "prove-dead"
title = "Prove it dead"
do = "Measure each point."
why = "Off is not dead."
hold = "firm"
needs = ["{needs}"]
proves_dead = ["run"]
read.known_before = { ask = "Known source, before", V = [-100, 12, 13, 100] }
read.pair = { ask = "Red to black", V = [-100, -0.1, 0.1, 100] }
read.hull = { ask = "Red to hull", V = [-100, -0.1, 0.1, 100] }
read.known_after = { ask = "Known source, after", V = [-100, 12, 13, 100] }
check.dead.known_before = "known_before"
check.dead.points = ["{points}"]
check.dead.known_after = "known_after"
check.dead.nominal = "{nominal}"
"""


def changed(old: str, new: str, text: str = SMALL) -> str:
    """Return the text with one place changed; the place must be there once."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
    return text.replace(old, new)


def blocks(name: str, *, prove_dead: str = BLOCK, **others: str) -> str | None:
    """Give the text of a block by its name."""
    return {"prove-dead": prove_dead, **{key.replace("_", "-"): text for key, text in others.items()}}.get(name)


def loaded(text: str = SMALL, **others: str) -> Procedure:
    """Return the procedure of a text."""
    return load_text(text, "small.toml", block_reader=lambda name: blocks(name, **others))


def faults_of(text: str, **others: str) -> list[str]:
    """Return the faults of a text as people read them."""
    try:
        loaded(text, **others)
    except ProcedureFaults as found:
        return [str(fault) for fault in found.faults]
    return []
