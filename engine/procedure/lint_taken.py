"""Lint: how readings are taken. The points of a dead proof, signs, one minute, one answer that wants another."""

from collections.abc import Iterator, Mapping

from engine.finding import Value
from engine.procedure.faults import Place
from engine.procedure.lint_doubts import orders
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.model_circuit import Operand, PartKind, Reference, Since, StepCheck
from engine.trade.dead import DEAD_V, LIVE_V

Found = Iterator[tuple[Place, str]]

DEAD, POLARITY = "dead", "polarity"

WANTED: Mapping[str, tuple[tuple[str, str, Value], ...]] = {
    "dead": (("loaded", "points", (DEAD_V + LIVE_V) / 2),),
    "pull": (("force", "method", "scale"),),
    "stud": (("hole", "stamped", False), ("stud", "stamped", False)),
    "protection-place": (("sheathed", "distance", 1.0), ("at_battery", "distance", 1.0)),
    PartKind.PROTECTION: (
        ("sheathed", "distance", 1.0),
        ("at_battery", "distance", 1.0),
        ("ignition_protected", "fuel_vapour", True),
    ),
    PartKind.BANK: (("cranking", "chemistry", "lead"), ("short_circuit", "chemistry", "lifepo4")),
    PartKind.LOAD: (("maker_size", "self_limiting", True),),
}
"""By check or part: an input that is wanted under an answer to another, such as the pull where a scale pulls."""

SAME_MINUTE = {
    "measured-drop": ("V", "mV", "A"),
    "joint": ("V", "mV", "A"),
    "lamp": ("V",),
    "heat": ("degC",),
}
"""Checks that stand only while a current runs, and the units of what is read in one minute for them (project rule)."""


def taken_faults(loaded: Loaded) -> Found:
    """Give every dead check that lacks points or its known source, every sign and second reading that is not asked."""
    for step in loaded.procedure.steps:
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.name == DEAD:
                yield from _points(loaded, place, step, check)
                yield from _known_source(loaded, place, step, check)
            for name, by, answer in WANTED.get(check.name, ()):
                yield from _not_asked(loaded, place, check.inputs, name, by, answer)
            for name in ids_of(check, "volts") if check.name == POLARITY else ():
                if not loaded.procedure.entry_by_id[name].signed:
                    yield place.key("volts"), f"{name} may be typed without its sign, which polarity is; ask for it"
        yield from _sniffed(loaded, step)
        used = loaded.procedure.rests_on[step.id]
        for entry in step.readings:
            if entry.signed and entry.id not in used:
                yield (
                    loaded.entries[entry.id],
                    "its sign is asked for and nothing here judges it; check it in this step",
                )

    for part in loaded.procedure.circuit:
        for key in ("found", "planned"):
            place = loaded.place.key("circuit").row(part.id).key(key)
            for name, by, answer in WANTED.get(part.kind, ()):
                yield from _not_asked(loaded, place, getattr(part, key), name, by, answer)


def _sniffed(loaded: Loaded, step: Step) -> Found:
    """Give a step that a later one wants to stand still, and that never grows old, or grows old and nobody wants it."""
    procedure = loaded.procedure
    wanting = [other for other in procedure.steps if step.id in (other.needs or ())]
    place = loaded.steps[step.id]
    own = {entry.id for entry in step.readings}
    if "sniff" in orders(step.action):
        used = any(own & check.entries for other in procedure.steps for check in other.checks if other is not step)
        if wanting and step.lasts_s is None:
            yield place, f'"{wanting[0].id}" needs it to stand still, and it never grows old; say how long it lasts'
        if step.lasts_s is not None and not wanting and not used:
            yield place.key("lasts"), "grows old and no step needs it; name it in the needs of the one that it guards"
    elif step.lasts_s is None and any(own & procedure.rests_on[other.id] for other in wanting):
        yield place, f'"{wanting[0].id}" needs its readings fresh, and they never grow old; say how long they last'


def taken_doubts(loaded: Loaded) -> Found:
    """Give every check whose readings are of different minutes, and every time that nothing keeps short."""
    for step in loaded.procedure.steps:
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            units = SAME_MINUTE.get(check.name, ())
            since = [given for given in check.inputs.values() if isinstance(given, Since)]
            apart = {given.start for given in since}
            read = [e for e in step.readings if e.id in check.entries - apart and e.unit in units]
            if len({entry.group or entry.id for entry in read}) > 1:
                yield place, f"takes {', '.join(e.id for e in read)} at times of their own; give them one group"
            if check.name in SAME_MINUTE and since and step.lasts_s is None:
                yield place, "reckons with a time, and its readings never grow old; say how long they last"
        yield from _apart(loaded, step)


def _apart(loaded: Loaded, step: Step) -> Found:
    """Give every limit on several readings of a step of which some belong to one minute and some do not."""
    groups = {entry.id: entry.group for entry in step.readings if entry.unit in ("V", "mV", "A", "degC")}
    for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
        named = sorted(limit.expression.names & groups.keys())
        alone = [name for name in named if not groups[name]]
        if alone and len(alone) < len(named):
            yield place, f"compares {', '.join(named)}, and {alone[0]} is not of their minute; give them one group"
    for group in {group for group in groups.values() if group}:
        if sum(entry.group == group for entry in step.readings) == 1:
            yield loaded.steps[step.id].key("read"), f'only one reading belongs to "{group}"; give it to the others'


def ids_of(check: StepCheck, name: str) -> tuple[str, ...]:
    """Return the entries that fill an input."""
    return _ids(check.inputs, name)


def _ids(filled: Mapping[str, Operand], name: str) -> tuple[str, ...]:
    given = filled.get(name)
    return given.ids if isinstance(given, Reference) else ()


def _points(loaded: Loaded, place: Place, step: Step, check: StepCheck) -> Found:
    points = set(ids_of(check, "points"))
    if len(points) < 2:
        yield place.key("points"), "has fewer than two points; across the wires, and from each to the hull"
    elif len(points) < len(step.proves_dead):
        zones = ", ".join(step.proves_dead)
        yield place.key("points"), f"has {len(points)} points for {zones}; each zone has its own, where hands go"
    limited = {name for limit in step.limits for name in limit.expression.names}
    for entry in step.readings:
        if entry.unit == "V" and entry.id not in check.entries | limited:
            yield (
                loaded.entries[entry.id],
                "is read where it must be dead, and no point of the dead check; add it there",
            )


def _known_source(loaded: Loaded, place: Place, step: Step, check: StepCheck) -> Found:
    """Give a known source that is not measured before all points, and one that is not measured after them."""
    order = {entry.id: number for number, entry in enumerate(loaded.procedure.entries_of(step))}
    points = [order.get(point, -1) for point in ids_of(check, "points")]
    for after in ids_of(check, "known_after"):
        if order.get(after, -1) < max(points, default=-1) or after not in order:
            yield place.key("known_after"), f"{after} is not taken after the points; let it be the last reading here"
    for before in ids_of(check, "known_before"):
        if before in order and order[before] > min(points, default=len(order)):
            yield (
                place.key("known_before"),
                f"{before} is not taken before the points; take it before the first of them",
            )


def _not_asked(loaded: Loaded, place: Place, filled: Mapping[str, Operand], name: str, by: str, answer: Value) -> Found:
    """Give an input whose entry is not asked under the very answer to another that calls for it."""
    wanted = dict.fromkeys(_ids(filled, by), answer)
    for entry in _ids(filled, name) if wanted else ():
        when = loaded.procedure.entry_by_id[entry].when
        if when is not None and when.holds(wanted) is False:
            yield place.key(name), f"{entry} is not asked where it is wanted; turn the condition of its row"
