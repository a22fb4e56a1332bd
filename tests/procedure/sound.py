"""A small job in which every rule of the linter has something to look at, and nothing to say."""

from engine.procedure.lint import LintReport, lint_text

SOUND = """\
schema = 2
id = "small-run"
title = "A small run"
revision = "1"
summary = "one line"
scope = "a test"
profile = "industry"

[zone]
feed = { name = "the bank side", left = "live" }
run = { name = "the run", left = "live" }

[piece]
ends = { name = "the cut ends" }
joint = { name = "the joint", rests_on = ["ends"] }
posts = { name = "the posts" }
circuit = { name = "the whole circuit", rests_on = ["joint", "posts"] }

[circuit]
bank = { kind = "bank", found = { nominal = "nominal" } }
fuse = { kind = "protection", found = { fitted = "fuse", distance = "0 mm", sheathed = "yes", at_battery = "no" } }
wire.kind = "wire"
wire.found = { size = "size", out = "run_out", back = "run_back", insulation = "insulation", engine_space = "space" }
lamp.kind = "load"
lamp.found = { current = "amps", nominal = "nominal", class = "ordinary", continuous = "yes" }

[[section]]
id = "plan"
title = "Plan"

[[section.step]]
id = "facts"
title = "The facts"
do = "Read the labels."
why = "The plan rests on them."
fact.nominal = { ask = "Volts of the bank", V = [12, 12, 24, 48] }
limit.nominal = { is = "nominal == 12 V or nominal == 24 V", says = "a bank of 12 or 24 V" }
fact.fuse = { ask = "Fuse", A = [1, 5, 20, 60] }
fact.size = { ask = "Wire", of = "wire" }
fact.run_out = { ask = "Wire out", m = [0.3, 1, 10, 20], by = "tape" }
fact.run_back = { ask = "Wire back", m = [0.3, 1, 10, 20], by = "tape" }
fact.insulation = { ask = "Heat that the jacket bears", degC = [60, 60, 125, 200] }
fact.space = { ask = "Does it pass an engine space", of = "yes/no" }
fact.amps = { ask = "Current of the lamp", A = [0.1, 1, 10, 30] }
fact.taps = { ask = "Old taps on the run", count = [0, 0, 1, 2] }

[[section.step]]
id = "plan-verdict"
title = "The plan"
do = "Read the verdict."
why = "It says what to buy."
hold = "hold"
check.plan = {}

[[section]]
id = "safe"
title = "Make safe"

[[section.step]]
id = "vapour"
title = "Sniff and air"
do = "Sniff low down in each locker."
why = "A heat gun makes sparks."
warn.WARNING = { hazard = "Vapour explodes.", avoid = "Air first." }
read.opened = { ask = "Lockers open now", good = "yes" }
read.smelt = { ask = "Smell, ten minutes later", one_of = ["none", "some"], good = ["none"] }
check.waited = { time = "smelt since opened", least = "10 min" }

[[section.step]]
id = "lift-negative"
title = "Negative off"
do = "Lift the negative from its post."
why = "The negative comes first."
isolates = ["feed", "run"]
warn.WARNING = { hazard = "A spanner melts.", avoid = "Watch off." }

[[section.step]]
id = "lift-positive"
title = "Positive off"
do = "Lift the positive from its post."
why = "One ring left on is a way in."
isolates = ["feed", "run"]

[[section.step]]
id = "known"
title = "A known source"
do = "Measure a source that you know is live."
why = "A broken lead reads nothing too."
proves_dead = ["feed", "run"]
read.known_before = { ask = "Known source, before", V = [-100, 5, 28, 100] }

[[section.step]]
id = "tap-volts"
title = "Taps, volts"
do = "Measure each tap to the hull."
why = "A tap may come from elsewhere."
proves_dead = ["run"]
when = "taps > 0"
read.v_tap = { ask = "Tap to the hull", V = [-100, -0.1, 0.1, 100] }

[[section.step]]
id = "feed-volts"
title = "Bank side, volts"
do = "Measure where the fuse sits."
why = "Each zone has its own proof."
proves_dead = ["feed"]
read.v_feed = { ask = "Fuse's two ends to the hull", V = [-100, -0.1, 0.1, 100] }

[[section.step]]
id = "prove-dead"
title = "Prove it dead"
do = "Measure each point."
why = "Off is not dead."
proves_dead = ["feed", "run"]
hold = "firm"
read.v_pair = { ask = "Across the two wires", V = [-100, -0.1, 0.1, 100] }
read.v_hull = { ask = "Red to the hull", V = [-100, -0.1, 0.1, 100] }
read.known_after = { ask = "Known source, after", V = [-100, 5, 28, 100] }
check.dead.known_before = "known_before"
check.dead.points = ["v_feed", "v_tap", "v_pair", "v_hull"]
check.dead.known_after = "known_after"
check.dead.nominal = "12 V"

[[section]]
id = "work"
title = "Work"

[[section.step]]
id = "cut"
title = "Cut"
do = "Cut each wire square."
why = "A square end goes home."
works = ["ends"]
hands_on = ["run"]
irreversible = "cut"
warn.CAUTION = { hazard = "Strands spring.", avoid = "Goggles on." }

[[section.step]]
id = "strip"
title = "Strip"
do = "Strip both ends."
why = "Copper goes to the end."
makes = ["ends"]
hands_on = ["run"]
read.depth = { ask = "Depth of the barrel", mm = [5, 8, 20, 40], by = "cal" }
read.bare = { ask = "Bare length", mm = [0, 8, 20, 60], by = "cal" }
read.copper = { ask = "Copper", one_of = ["bright", "dull"], good = ["bright"] }
check.strip = { depth = "depth", strip = "bare" }

[[section.step]]
id = "crimp"
title = "Crimp"
do = "Crimp both lugs."
why = "The wrong die looks right."
works = ["joint"]
hands_on = ["run", "feed"]
takes = "45 min"

[[section.step]]
id = "pull"
title = "Pull"
do = "Pull each lug."
why = "What moves now is open soon."
proves = ["joint"]
hands_on = ["run", "feed"]
mend.crimp = { says = "Cut it off, crimp a new one", works = ["joint"] }
read.slip = { ask = "A wire moved", of = "yes/no" }
check.pull = { size = "size", method = "hand", slip = "slip", kind = "crimp" }

[[section.step]]
id = "connect"
title = "Rings on"
do = "Land each ring, the negative last."
why = "The last ring can spark."
makes = ["posts"]
feeds = ["feed", "run"]
warn.WARNING = { hazard = "It is live from here on.", avoid = "One spanner." }
read.rings_firm = { ask = "No ring turns", good = "yes" }

[[section]]
id = "prove"
title = "Prove"

[[section.step]]
id = "polarity"
title = "Polarity"
do = "Measure at the lamp's plug."
why = "Reversed, it dies."
proves = ["circuit"]
hold = "firm"
mend.turned = { says = "Change the two wires over", works = ["joint"] }
read.v_sign = { ask = "Red on red, black on black", V = [-100, 11, 28, 100], signed = true }
check.polarity = { volts = "v_sign", nominal = "nominal" }

[[section.step]]
id = "load-test"
title = "Under load"
do = "Run the lamp for a minute."
why = "Joints show under load."
proves = ["circuit"]
hold = "hold"
mend.hot = { says = "Open what is hot, make it again", works = ["joint", "posts"] }
read.i_load = { ask = "Current", A = [0.05, 0.5, 20, 60], group = "load" }
read.v_source = { ask = "At the posts", V = [5, 11, 29, 60], group = "load" }
read.v_load = { ask = "At the lamp", V = [5, 10, 29, 60], group = "load" }
check.measured-drop.source = "v_source"
check.measured-drop.at_load = "v_load"
check.measured-drop.current = "i_load"
check.measured-drop.rated = "amps"
check.measured-drop.predicted = "plan.loop"
check.measured-drop.nominal = "nominal"
"""


def changed(*changes: tuple[str, str]) -> str:
    """Return the text with some places changed; each must be there once."""
    text = SOUND
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
        text = text.replace(old, new)
    return text


def of_step(name: str, old: str, new: str) -> tuple[str, str]:
    """Return the change of a place inside one step."""
    start = SOUND.index(f'id = "{name}"')
    whole = SOUND[start : SOUND.index("\n[[", start) if "\n[[" in SOUND[start:] else len(SOUND)]
    assert whole.count(old) == 1, f"{old!r} stands {whole.count(old)} times in {name}"
    return whole, whole.replace(old, new)


def linted(*changes: tuple[str, str]) -> LintReport:
    """Return the report on the text with some places changed."""
    return lint_text(changed(*changes), "small.toml")


def line_of(text: str, *changes: tuple[str, str]) -> int:
    """Return the line on which a text stands first, after some changes."""
    return changed(*changes)[: changed(*changes).index(text)].count("\n") + 1
