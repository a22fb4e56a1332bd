"""Lint: what fills the inputs of checks and the circuit, and whether the hold of a step is as firm as its checks."""

from collections.abc import Iterator, Mapping

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Entry, Hold, Step
from engine.procedure.model_circuit import PLAN, Literal, Operand, PartKind, Reference, StepCheck, operand_ids
from engine.quantity.pin_rows import PIN_MAP
from engine.rules.check import TO_BASE, Input
from engine.rules.registry import check as named

Found = Iterator[tuple[Place, str]]

DEAD, POLARITY = "dead", "polarity"

HELD = (PLAN, "measured-drop", "heat", "pin-map")
"""Checks that the work must not go past unseen: their step is a hold (project rule)."""

ONE_SIZE = {("hole", "largest", "smallest"), ("voltage-drop", "out", "back")}
"""Inputs that one entry may fill twice: a saw has one size, a cable with both wires one length (project rule)."""

MATRIX = ("pin-map", "ohms")
"""The input that takes readings twice: each contact to each, and back."""

BY_DESIGN = ("nominal", "continuous", "at_battery", "sheathed", "seconds", "parts", "bezel", "least", "design")
"""Inputs that the job itself may settle, so that an author writes them: a fuse stands at the battery (project rule)."""

LENGTHS = {"out": (0.2, 60.0), "back": (0.2, 60.0), "distance": (0.0, 6.0)}
"""Between what the middle of the usual lengths of a run, and to its fuse, may lie [m] (project rule)."""

WORDS = ("choice", "words", PIN_MAP)
"""What an author may write: it is no amount and no answer of this boat."""

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
    """Give every input that is fed twice, by a constant that decides it, or in another unit, and every lax hold."""
    for step in loaded.procedure.steps:
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.name != PLAN:
                yield from _twice(place, check)
                yield from _decided(loaded, place, step, check)
                yield from _elsewhere(loaded, place, check)
    yield from _lax(loaded)
    parts = {part.kind for part in loaded.procedure.circuit}
    if PartKind.WIRE in parts and not any(
        check.name == PLAN for step in loaded.procedure.steps for check in step.checks
    ):
        yield loaded.place.key("circuit"), "is judged by no step; give one of them check.plan = {}"


def constant_parts(loaded: Loaded) -> Found:
    """Give every part of the circuit that an amount in the file decides, or whose out and back are one reading."""
    for part in loaded.procedure.circuit:
        for key in ("found", "planned", "built"):
            filled: Mapping[str, Operand] = getattr(part, key)
            place = loaded.place.key("circuit").row(part.id).key(key)
            for name in ASKED.get(part.kind, ()):
                if isinstance(given := filled.get(name), Literal):
                    yield place.row(name), f'"{given.text}" decides the plan for every boat; ask for it'
            for name, (least, most) in LENGTHS.items():
                for entry in operand_ids([filled[name]] if name in filled else []):
                    if _astray(loaded.procedure.entry_by_id[entry], least, most):
                        yield place.row(name), f"{entry} is usually no such length; look at its unit and range"
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


def _decided(loaded: Loaded, place: Place, step: Step, check: StepCheck) -> Found:
    for name, given in check.inputs.items():
        if not isinstance(given, Literal):
            continue
        item = named(check.name).known[name]
        used = {i for s in loaded.procedure.steps for c in s.checks if c.name == check.name for i in c.entries}
        own = loaded.procedure.entries_of(step)
        among = (e for e in loaded.procedure.entry_by_id.values() if e in own or e.id not in used)
        asked = next((entry for entry in among if _answers(entry, item)), None)
        if _is_measured(item, given):
            yield place.key(name), f'"{given.text}" stands where a reading belongs; take one'
        elif asked and asked.id not in check.entries:
            yield place.key(name), f'"{given.text}" stands where {asked.id} is asked; name {asked.id}'


def _is_measured(item: Input, given: Literal) -> bool:
    """Return whether an input tells of this boat and this work, and what is written does not err to the safe side.

    Nothing (a wire that is not there, no link) may be written.
    """
    if item.name in BY_DESIGN or (given.value == 0 and not isinstance(given.value, bool)):
        return False
    if item.unit == "yes/no":
        return bool(item.required or item.worse) and given.value is not (item.worse == "more")
    return item.unit not in WORDS


def _answers(entry: Entry, item: Input) -> bool:
    """Return whether a choice of the step asks just what an input takes."""
    return len(entry.choices) > 1 and set(entry.choices) <= set(item.choices)


def _elsewhere(loaded: Loaded, place: Place, check: StepCheck) -> Found:
    """Give every entry whose usual values all lie outside of what its input takes: a unit or a point went astray."""
    for name, given in check.inputs.items():
        item = named(check.name).known[name]
        low, high = (end * TO_BASE.get(item.unit, 1.0) if end is not None else None for end in (item.low, item.high))
        for entry in given.ids if isinstance(given, Reference) else ():
            if _astray(loaded.procedure.entry_by_id[entry], low, high):
                yield place.key(name), f"usual values of {entry} are none that {name} takes; look at its unit and range"


def _astray(entry: Entry, low: float | None, high: float | None) -> bool:
    """Return whether the middle of the usual range of an entry lies outside of a range [base units]."""
    if entry.likely is None:
        return False
    middle = sum(entry.likely) / 2
    return (low is not None and middle < low) or (high is not None and middle > high)


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
