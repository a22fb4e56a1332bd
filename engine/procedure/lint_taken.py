"""Lint: how readings are taken. The points of a dead proof, signs, one minute, one answer that wants another."""

from collections.abc import Iterator, Mapping

from engine.finding import Value
from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.model_circuit import Reference, Since, StepCheck
from engine.trade.dead import DEAD_V, LIVE_V

Found = Iterator[tuple[Place, str]]

DEAD, POLARITY, PULL = "dead", "polarity", "pull"

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
                wanted = dict.fromkeys(ids_of(check, "points"), (DEAD_V + LIVE_V) / 2)
                yield from _not_asked(loaded, place, check, "loaded", wanted)
            if check.name == PULL:
                yield from _not_asked(loaded, place, check, "force", dict.fromkeys(ids_of(check, "method"), "scale"))
            for name in ids_of(check, "volts") if check.name == POLARITY else ():
                if not loaded.procedure.entry_by_id[name].signed:
                    yield place.key("volts"), f"{name} may be typed without its sign, which polarity is; ask for it"
        used = loaded.procedure.rests_on[step.id]
        for entry in step.readings:
            if entry.signed and entry.id not in used:
                yield (
                    loaded.entries[entry.id],
                    "its sign is asked for and nothing here judges it; check it in this step",
                )


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


def ids_of(check: StepCheck, name: str) -> tuple[str, ...]:
    """Return the entries that fill an input."""
    given = check.inputs.get(name)
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


def _not_asked(loaded: Loaded, place: Place, check: StepCheck, name: str, wanted: Mapping[str, Value]) -> Found:
    """Give an input whose entry is not asked under the very answers that call for it."""
    for entry in ids_of(check, name) if wanted else ():
        when = loaded.procedure.entry_by_id[entry].when
        if when is not None and when.holds(wanted) is False:
            yield place.key(name), f"{entry} is not asked where it is wanted; turn the condition of its row"
