"""A small procedure and its block, whole and free of doubt: what the tests of this folder change in one place each."""

from engine.procedure.faults import ProcedureFaults
from engine.procedure.load import load_text
from engine.procedure.model import Procedure

SMALL = """\
schema = 1
id = "small-job"
title = "A small job"
revision = "1"
summary = "one line"
scope = "a test"
profile = "industry"

[[fact]]
id = "motor_current"
ask = "Current of the new motor"
unit = "A"
hard = ["5 A", "120 A"]
likely = ["30 A", "60 A"]

[[fact]]
id = "wire_size"
ask = "Size printed on the wire"
unit = "wire"

[[fact]]
id = "taps"
ask = "Are there taps"
unit = "yes/no"

[[fact]]
id = "barrel_depth"
ask = "Depth of the barrel"
unit = "mm"
hard = ["5 mm", "40 mm"]
likely = ["10 mm", "20 mm"]

[[circuit.part]]
id = "run"
kind = "wire"
name = "run to the bow"
found = { size = "wire_size", out = "5.2 m", back = "5.2 m", engine_space = "no" }
planned = { size = "#6" }

[[section]]
id = "make-safe"
title = "Make safe"

[[section]]
id = "work"
title = "Work"
needs = ["prove-dead"]

[[step]]
id = "plan"
section = "make-safe"
title = "The plan"
action = "Read the plan."
why = "It says what to buy."
hold = "hold"
asks = ["motor_current", "wire_size", "taps", "barrel_depth"]
  [[step.check]]
  name = "plan"

[[step]]
use = "prove-dead"
with = { section = "make-safe", nominal = "12 V", points = ["pair", "hull"] }

[[step]]
id = "strip"
section = "work"
title = "Strip"
action = "Strip the end."
why = "Copper must reach the end."
hold = "hold"
lasts = "12 h"
lasts_away = "10 min"
  [[step.warning]]
  word = "CAUTION"
  hazard = "Cut strands spring."
  avoid = "Wear goggles."
  [[step.reading]]
  id = "strip_length"
  ask = "Bare length"
  unit = "mm"
  hard = ["0 mm", "60 mm"]
  likely = ["8 mm", "20 mm"]
  instrument = "cal"
  [[step.limit]]
  is = "strip_length >= barrel_depth - 1 mm"
  otherwise = "fail"
  says = "copper must reach the end of the barrel"
  source = { authority = "practice", document = "common practice, no source", seen = "memory" }
  [[step.opens]]
  id = "covers"
  says = "covers back on the posts"

[[step]]
id = "covers-on"
section = "work"
title = "Covers on"
action = "Put the covers on."
why = "A dropped tool must find no metal."
closes = ["covers"]
  [[step.due]]
  id = "first-day"
  says = "feel the plug"
  after = "1 day"
"""

BLOCK = """\
schema = 1
id = "prove-dead"
title = "Prove it dead"

[parameters]
section = "the section it stands in"
nominal = "volts of the known source"
points = "the readings that must be dead"

[[step]]
id = "prove-dead"
section = "{section}"
title = "Prove it dead"
action = "Measure each point."
why = "Off is not dead."
hold = "firm"
  [[step.reading]]
  id = "known_before"
  ask = "Known source, before"
  unit = "V"
  hard = ["-100 V", "100 V"]
  likely = ["12 V", "13 V"]
  [[step.reading]]
  id = "pair"
  ask = "Red to black"
  unit = "V"
  hard = ["-100 V", "100 V"]
  likely = ["-0.1 V", "0.1 V"]
  [[step.reading]]
  id = "hull"
  ask = "Red to hull"
  unit = "V"
  hard = ["-100 V", "100 V"]
  likely = ["-0.1 V", "0.1 V"]
  [[step.reading]]
  id = "known_after"
  ask = "Known source, after"
  unit = "V"
  hard = ["-100 V", "100 V"]
  likely = ["12 V", "13 V"]
  [[step.check]]
  name = "dead"
  with = { known_before = "known_before", points = ["{points}"], known_after = "known_after", nominal = "{nominal}" }
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
