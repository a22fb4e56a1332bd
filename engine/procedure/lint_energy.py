"""Lint: what is switched on and off in which order, with which volts, behind which protection."""

import re
from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.jobs import TooManyJobs, jobs
from engine.procedure.lint_pieces import with_below
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.model_circuit import Literal, Operand, PartKind, Reference

Found = Iterator[tuple[Place, str]]

DEAD = "dead"
"""The check whose nominal is that of the known source."""

SOLAR = ("solar", "solar-wire")
"""Checks of a panel and its wires."""

POLARITY, PIN_MAP = "polarity", "pin-map"
"""Checks that tell which wire is which before anything runs on it."""

LOADED = ("measured-drop", "heat", "joint", "lamp")
"""Checks on what carries its full current: reversed, it would be too late to know (project rule)."""


def energy_faults(loaded: Loaded) -> Found:
    """Give every load before the polarity, positive before negative, odd volts, and a load without protection."""
    yield from _loads_first(loaded)
    yield from _poles(loaded)
    yield from _odd_volts(loaded)
    kinds = {part.kind for part in loaded.procedure.circuit}
    if {PartKind.LOAD, PartKind.WIRE} <= kinds and not any(
        "measured-drop" in _names(s) for s in loaded.procedure.steps
    ):
        yield loaded.place.key("circuit"), "is never loaded; let a step measure its drop (check.measured-drop)"
    if PartKind.LOAD in kinds and PartKind.PROTECTION not in kinds:
        yield loaded.place.key("circuit"), "has a load and no fuse or breaker; name the one that guards its wire"


def _loads_first(loaded: Loaded) -> Found:
    """Give every step that loads a piece of which no step before has read the sign, or told the wires below it."""
    procedure = loaded.procedure
    judging = [s for s in procedure.steps if _names(s) & {POLARITY, PIN_MAP, *LOADED}]
    try:
        in_jobs = jobs(procedure, judging)
    except TooManyJobs:
        in_jobs = [tuple(judging)]
    for steps in in_jobs:
        signed: set[str] = set()
        mapped: set[str] = set()
        for step in steps:
            signed |= set(step.proves) if POLARITY in _names(step) else set()
            mapped |= set(step.proves) if PIN_MAP in _names(step) else set()
            loads = sorted(_names(step) & set(LOADED))
            below = {piece for one in step.proves for piece in with_below(procedure, one)}
            if loads and step.proves and signed.isdisjoint(step.proves) and mapped.isdisjoint(below):
                yield (
                    loaded.steps[step.id],
                    f"loads {', '.join(step.proves)} ({loads[0]}) before a polarity check of it; read the sign first",
                )


def _names(step: Step) -> frozenset[str]:
    return frozenset(check.name for check in step.checks)


def _poles(loaded: Loaded) -> Found:
    """Give every step that takes a positive off before its negative, or puts a negative on before its positive."""
    steps = loaded.procedure.steps
    for number, step in enumerate(steps):
        for key, first in (("isolates", "negative"), ("feeds", "positive")):
            zones = set(getattr(step, key))
            if not zones or _pole(step) == first:
                continue
            later = next((s for s in _until_turned(steps[number + 1 :], key, zones) if _pole(s) == first), None)
            if later is not None and _pole(step):
                off = "off" if key == "isolates" else "on"
                yield (
                    loaded.steps[step.id],
                    f'the {_pole(step)} goes {off} before the {first} of "{later.id}"; change the two',
                )


def _until_turned(steps: tuple[Step, ...], key: str, zones: set[str]) -> Iterator[Step]:
    """Give the steps that do the same to one of the zones, until one does the contrary."""
    contrary = "feeds" if key == "isolates" else "isolates"
    for step in steps:
        if zones & set(getattr(step, contrary)):
            return
        if zones & set(getattr(step, key)):
            yield step


def _pole(step: Step) -> str:
    """Return which pole of a battery a step takes off or puts on; empty if none, or both."""
    said = {
        word for word in ("negative", "positive") if re.search(rf"\b{word}s?\b", f"{step.title} {step.action}".lower())
    }
    return said.pop() if len(said) == 1 else ""


def _odd_volts(loaded: Loaded) -> Found:
    """Give every nominal of the circuit and its checks that is not the one with which the circuit begins."""
    said: list[tuple[Place, Operand]] = []
    for part in loaded.procedure.circuit:
        if "nominal" in part.found:
            place = loaded.place.key("circuit").row(part.id).key("found")
            said.append((place.row("nominal"), part.found["nominal"]))
    panel = _of_panels(loaded)
    for step in loaded.procedure.steps:
        for at, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if "nominal" in check.inputs and check.name != DEAD and check.inputs["nominal"] not in panel:
                said.append((at.key("nominal"), check.inputs["nominal"]))
    for place, given in said[: bool(loaded.procedure.circuit)]:
        for name in given.ids if isinstance(given, Reference) else ():
            limited = any(name in limit.expression.names for step in loaded.procedure.steps for limit in step.limits)
            if not limited:
                yield place, f"{name} may be any volts; limit it to those that this procedure is for"
    for place, given in said[1:]:
        if _told(given) != _told(said[0][1]):
            yield (
                place,
                f"is {_text(given)}, and {said[0][0]} is {_text(said[0][1])}; one system has one nominal voltage",
            )


def _of_panels(loaded: Loaded) -> list[Operand]:
    """Return what says the volts of a solar panel, which are no system's: what checks of a panel take beside it."""
    steps = [s for s in loaded.procedure.steps if _names(s) & set(SOLAR)]
    asked = {entry.id for step in steps for entry in loaded.procedure.entries_of(step)}
    beside = [c.inputs.get("nominal") for s in steps for c in s.checks] + [
        o for s in steps for c in s.checks if c.name in SOLAR for o in c.inputs.values()
    ]
    return [o for o in beside if isinstance(o, Reference)] if asked else []


def _told(given: Operand) -> object:
    return given.value if isinstance(given, Literal) else given


def _text(given: Operand) -> str:
    return (
        given.text
        if isinstance(given, Literal)
        else " ".join(given.ids)
        if isinstance(given, Reference)
        else str(given)
    )
