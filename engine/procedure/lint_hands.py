"""Lint: steps that take hold of a conductor and name no zone or piece, and tools that want a warning and have none."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from engine.procedure.faults import Place
from engine.procedure.lint_doubts import orders
from engine.procedure.lint_pieces import with_below
from engine.procedure.load import Loaded
from engine.procedure.model import Signal, Step

Found = Iterator[tuple[Place, str]]

OBJECT = 5
"""Words after a verb among which its object is looked for (project rule)."""

_WORD = re.compile(r"[a-z]+")


def hand_faults(loaded: Loaded) -> Found:
    """Give every step whose verb says more than its zones and pieces do, and every tool without its warning."""
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id].key("do")
        made, held = _makes(step), _holds(step)
        if held and not step.touches:
            yield (
                place,
                f'"{held[0]}" takes hold of a conductor and the step names no zone or piece; say what it touches',
            )
        elif made and not (step.works or step.isolates or step.feeds):
            yield place, f'"{made[0]}" makes something and the step works on no piece; name it in works'
    yield from _off_the_zone(loaded)
    yield from _unwarned(loaded)


def verbs_of(step: Step) -> list[str]:
    """Return the verbs of a step: those of its action, and the one that cannot be undone."""
    return list(dict.fromkeys((*orders(step.action), *([step.irreversible] if step.irreversible else []))))


def _makes(step: Step) -> list[str]:
    return [verb for verb in verbs_of(step) if verb in _words("makes")]


def _holds(step: Step) -> list[str]:
    """Return the verbs that take hold of a conductor: those that make something, and those with one as their object."""
    words = _WORD.findall(step.action.lower())
    objects = {verb: words[at + 1 : at + 1 + OBJECT] for at, verb in enumerate(words) if verb in _words("takes_hold")}
    held = [v for v in verbs_of(step) if v in objects and not _words("conductors").isdisjoint(objects[v])]
    return [*_makes(step), *held]


def _speaks_of(step: Step, kind: str) -> bool:
    return not _words(kind).isdisjoint(_WORD.findall(step.action.lower()))


def _off_the_zone(loaded: Loaded) -> Found:
    """Give every step that works on wires which hands touch elsewhere on a zone, and names no zone itself."""
    procedure = loaded.procedure
    hands = {
        piece: (step, zone)
        for step in reversed(procedure.steps)
        for piece in (*step.works, *step.proves)
        for zone in step.hands_on[:1]
    }
    for step in procedure.steps:
        if step.hands_on or step.isolates or step.feeds or not _holds(step):
            continue
        for piece in step.works:
            other = next((hands[p] for p in with_below(procedure, piece) if p in hands), None)
            if other:
                yield (
                    loaded.steps[step.id].key("works"),
                    f'works on "{piece}", which hands touch in "{other[0].id}" on "{other[1]}", and names no zone; '
                    "name it in hands_on",
                )


def _unwarned(loaded: Loaded) -> Found:
    """Give every tool without its warning, and leads of a battery of which nothing warns as they come off or go on."""
    warned_of = ""
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id]
        has_own = any(warning.word is not Signal.NOTICE for warning in step.warnings)
        for verb in verbs_of(step):
            if verb in _hazards() and not has_own:
                yield place, f'"{verb}" has no warning: {_hazards()[verb]}; warn in this step'
        way = "feeds" if step.feeds else "isolates" if step.isolates else ""
        if step.hands_on or (warned_of and way and way != warned_of):
            warned_of = ""
        if (
            way
            and not warned_of
            and set(verbs_of(step)) & _words("battery_verbs")
            and _speaks_of(step, "battery_leads")
        ):
            if has_own:
                warned_of = way
            else:
                yield place, "moves a lead of a battery and nothing warns of it; warn in the first such step"


@cache
def _lists() -> Mapping[str, object]:
    return tomllib.loads(Path(__file__).with_name("hands.toml").read_text(encoding="utf-8"))


@cache
def _words(kind: str) -> frozenset[str]:
    return frozenset(str(_lists()[kind]).split())


@cache
def _hazards() -> Mapping[str, str]:
    """Return what each verb of a tool can hurt."""
    rows = _lists()["warns"]
    return {
        verb: str(row["hazard"]) for row in (rows if isinstance(rows, list) else []) for verb in row["verbs"].split()
    }
