"""Lint: steps that take hold of a conductor and name too little of it, and tools that want a warning and have none."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.hands import hazards, holds, makes, speaks_of, verbs_of, words
from engine.procedure.lint_pieces import with_below
from engine.procedure.load import Loaded
from engine.procedure.model import Signal, Step

Found = Iterator[tuple[Place, str]]

BY_HAND = ("pull", "torque", "strip", "strands", "stud")
"""Checks for which fingers or a tool are on the metal (project rule)."""


def hand_faults(loaded: Loaded) -> Found:
    """Give every step whose verb says more than its zones and pieces do, and every tool without its warning."""
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id].key("do")
        made, held = makes(step), holds(step)
        if held and not step.touches:
            yield place, f'"{held[0]}" takes hold of a conductor and names no zone or piece; say what the step touches'
        elif made and not step.works:
            yield place, f'"{made[0]}" makes something and the step works on no piece; name it in works'
        elif step.parts and not step.works:
            yield place, "threads parts on a wire and works on no piece; name it in works"
        if speaks_of(step, "behind") and set(verbs_of(step)) & words("reaches") and not step.hands_on:
            yield place, "reaches where nobody sees and has hands on no zone; name it in hands_on"
        if not any(warning.word is not Signal.NOTICE for warning in step.warnings):
            for verb in verbs_of(step):
                if verb in hazards():
                    yield loaded.steps[step.id], f'"{verb}" has no warning: {hazards()[verb]}; warn in this step'
    yield from _off_the_zone(loaded)


def _off_the_zone(loaded: Loaded) -> Found:
    """Give every step with hands on what hands touch elsewhere on a zone, that does not name this zone itself."""
    procedure = loaded.procedure
    zones: dict[str, dict[str, Step]] = {}
    for step in procedure.steps:
        for piece in step.works:
            zones.setdefault(piece, {}).update(dict.fromkeys(step.hands_on, step))
    for step in procedure.steps:
        if step.isolates or step.feeds or not _by_hand(step):
            continue
        for piece in (*step.works, *step.proves):
            below = [piece] if step.hands_on else with_below(procedure, piece)
            around = {zone: by for p in below for zone, by in zones.get(p, {}).items()}
            lacking = [zone for zone in around if zone not in step.hands_on]
            if lacking and (not step.hands_on or set(step.hands_on) & set(around)):
                yield (
                    loaded.steps[step.id].key("hands_on"),
                    f'has hands on "{piece}", as "{around[lacking[0]].id}" has on {lacking[0]}; add it to hands_on',
                )
                break


def _by_hand(step: Step) -> bool:
    return bool((step.works and holds(step)) or any(check.name in BY_HAND for check in step.checks))
