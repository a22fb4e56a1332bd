"""Lint: what fills the inputs of checks and the circuit, and whether the hold of a step is as firm as its checks."""

from collections.abc import Iterator, Mapping

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Hold, Step
from engine.procedure.model_circuit import PLAN, Literal, Operand, PartKind, Reference, StepCheck, operand_ids
from engine.rules.check import Input
from engine.rules.registry import check as named

Found = Iterator[tuple[Place, str]]

DEAD, POLARITY = "dead", "polarity"

HELD = (PLAN, "measured-drop", "heat")
"""Checks that the work must not go past unseen: their step is a hold (project rule)."""

SAME_MINUTE = ("measured-drop", "joint", "lamp")
"""Checks of volts that stand only while a current runs: all is read in the same minute (project rule)."""

ONE_SIZE = {("hole", "largest", "smallest"), ("voltage-drop", "out", "back")}
"""Inputs that one entry may fill twice: a saw has one size, a cable with both wires one length (project rule)."""

MATRIX = ("pin-map", "ohms")
"""The input that takes readings twice: each contact to each, and back."""

ASKED = {
    PartKind.WIRE: ("size", "out", "back"),
    PartKind.PROTECTION: ("fitted",),
    PartKind.LOAD: ("current",),
    PartKind.RECEPTACLE: ("rating",),
    PartKind.PLUG: ("rating",),
    PartKind.SWITCH: ("rating",),
}
"""Fields of the circuit that differ from boat to boat, so that an amount written in the file decides the plan."""


def check_faults(loaded: Loaded) -> Found:
    """Give every input that is fed twice or by a constant that decides it, every dead check and hold that is lax."""
    for step in loaded.procedure.steps:
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.name == PLAN:
                continue
            yield from _twice(place, check)
            yield from _decided(place, check)
            yield from _unsigned(loaded, place, check)
            if check.name == DEAD:
                yield from _dead(loaded, place, step, check)
    yield from _lax(loaded)


def apart_in_time(loaded: Loaded) -> Found:
    """Give every drop under load whose current and volts are not of the same minute."""
    for step in loaded.procedure.steps:
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            read = [e for e in step.readings if e.id in check.entries and e.unit in ("V", "mV", "A")]
            if check.name in SAME_MINUTE and len({entry.group or entry.id for entry in read}) > 1:
                yield place, f"takes {', '.join(e.id for e in read)} at times of their own; give them one group"


def constant_parts(loaded: Loaded) -> Found:
    """Give every part of the circuit that an amount in the file decides, or whose out and back are one reading."""
    for part in loaded.procedure.circuit:
        for key in ("found", "planned", "built"):
            filled: Mapping[str, Operand] = getattr(part, key)
            place = loaded.place.key("circuit").row(part.id).key(key)
            for name in ASKED.get(part.kind, ()):
                if isinstance(given := filled.get(name), Literal):
                    yield place.row(name), f'"{given.text}" decides the plan for every boat; ask for it'
            ids = [operand_ids([filled[name]]) for name in ("out", "back") if name in filled]
            if len(ids) == 2 and ids[0] & ids[1]:
                yield place.row("back"), "one length is counted as out and as back; measure both"


def _twice(place: Place, check: StepCheck) -> Found:
    given = [(name, i) for name, o in check.inputs.items() if isinstance(o, Reference) for i in o.ids]
    filled: dict[str, list[str]] = {}
    for name, entry in given:
        filled.setdefault(entry, []).append(name)
    for entry, names in filled.items():
        alike = (check.name, *names) in ONE_SIZE or {(check.name, name) for name in names} == {MATRIX}
        if len(names) > 1 and not alike:
            yield place.key(names[-1]), f"{entry} fills {' and '.join(names)}; each takes a reading of its own"


def _decided(place: Place, check: StepCheck) -> Found:
    for name, given in check.inputs.items():
        if isinstance(given, Literal) and _is_measured(named(check.name).known[name], given):
            yield place.key(name), f'"{given.text}" stands where a reading belongs; take one'


def _unsigned(loaded: Loaded, place: Place, check: StepCheck) -> Found:
    """Give a polarity whose volts may be typed without their sign."""
    for entry in _ids(check, "volts") if check.name == POLARITY else ():
        if not loaded.procedure.entry_by_id[entry].signed:
            yield (
                place.key("volts"),
                f"{entry} may be typed without its sign, which is what polarity is; write signed = true",
            )


def _is_measured(item: Input, given: Literal) -> bool:
    """Return whether an input tells of this boat and this work: measured, or wanted by the check and no property.

    Nothing (a wire that is not there, no link) may be written.
    """
    if item.instrument:
        return True
    nothing = given.value == 0 and not isinstance(given.value, bool)
    return item.required and item.unit not in ("choice", "words", "pin map") and item.name != "nominal" and not nothing


def _dead(loaded: Loaded, place: Place, step: Step, check: StepCheck) -> Found:
    """Give what is wrong with a dead check: its points, and the known source before and after them."""
    before, points, after = (_ids(check, name) for name in ("known_before", "points", "known_after"))
    if len(set(points)) < 2:
        yield place.key("points"), "has fewer than two points; across the wires, and from each to the hull"
    elif len(set(points)) < len(step.proves_dead):
        zones = ", ".join(step.proves_dead)
        yield place.key("points"), f"has {len(set(points))} points for {zones}; each zone has its own, where hands go"
    order = [entry.id for entry in loaded.procedure.entries_of(step)]
    late = [
        point
        for point in points
        if point in order and after and after[0] in order and order.index(point) > order.index(after[0])
    ]
    if after and (after[0] not in order or late):
        yield (
            place.key("known_after"),
            f"{after[0]} is not taken after the points; let it be the last reading of this step",
        )
    early = [
        entry
        for entry in before
        if entry in order and any(p not in order or order.index(p) < order.index(entry) for p in points)
    ]
    if early:
        yield place.key("known_before"), f"{early[0]} is not taken before the points; take it before the first of them"


def _ids(check: StepCheck, name: str) -> tuple[str, ...]:
    given = check.inputs.get(name)
    return given.ids if isinstance(given, Reference) else ()


def _lax(loaded: Loaded) -> Found:
    """Give each step that must hold the work up, and does not as its checks want it: of polarities, the first."""
    signed = False
    for step in loaded.procedure.steps:
        names = {check.name for check in step.checks}
        place = loaded.steps[step.id]
        first = POLARITY in names and not signed and not (step.feeds or step.works)
        signed = signed or (first and step.hold is Hold.FIRM)
        if step.hold is not Hold.FIRM and (DEAD in names or first):
            name = DEAD if DEAD in names else POLARITY
            yield place, f'has a {name} check, which only evidence opens; write hold = "firm"'
        elif step.hold is Hold.NONE and (held := sorted(names & set(HELD))):
            yield place, f'has a {held[0]} check, which the work must not go past unseen; write hold = "hold"'
