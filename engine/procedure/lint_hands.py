"""Lint: steps that take hold of a conductor and name too little of it, and tools that want a warning and have none."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.hands import hazard, holds, holds_of, makes, speaks_of, stages, verbs_of, words
from engine.procedure.lint_pieces import with_below
from engine.procedure.load import Loaded
from engine.procedure.model import Signal, Step

Found = Iterator[tuple[Place, str]]

SHRINKS = "shrink"
"""The verb of a step that covers all that was made in the stage before."""

BY_HAND = ("pull", "torque", "strip", "strands", "stud")
"""Checks for which fingers or a tool are on the metal (project rule)."""


def hand_faults(loaded: Loaded) -> Found:
    """Give every step whose verb says more than its zones and pieces do, and every tool without its warning."""
    proved = False
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id].key("do")
        made, held = makes(step), holds(step, dead=proved)
        alone = not (step.hands_on or step.isolates or step.feeds or speaks_of(step, "bench"))
        if held and not step.touches:
            yield place, f'"{held[0]}" takes hold of a conductor and names no zone or piece; say what the step touches'
        elif made and not step.works:
            yield place, f'"{made[0]}" makes something and the step works on no piece; name it in works'
        elif held and alone and (step.works or proved):
            yield place, f'"{held[0]}" is done by hand and names no zone; name it in hands_on'
        elif step.parts and not step.works:
            yield place, "threads parts on a wire and works on no piece; name it in works"
        if speaks_of(step, "behind") and set(verbs_of(step)) & words("reaches") and not step.hands_on:
            yield place, "reaches where nobody sees and has hands on no zone; name it in hands_on"
        proved = (proved or any(check.name == "dead" for check in step.checks)) and not step.feeds
    yield from _off_the_zone(loaded)
    yield from _unwarned(loaded)
    yield from _off_the_wire(loaded)


def like_doubts(loaded: Loaded) -> Found:
    """Give every step that makes its piece as others do, and says less of it: fewer zones, or less that it rests on."""
    alike: dict[object, list[Step]] = {}
    for step in loaded.procedure.steps:
        if step.works and makes(step):
            names = tuple(check.name for check in step.checks)
            alike.setdefault((*verbs_of(step), names, step.section, len(step.works)), []).append(step)
    for steps in alike.values():
        for step in steps:
            for key, said in (("hands_on", _zones), ("works", _rests)):
                others = [said(loaded, other) for other in steps if other is not step]
                lacking = sorted(frozenset.intersection(*others) - said(loaded, step)) if len(others) > 1 else []
                if lacking:
                    place = loaded.steps[step.id].key(key)
                    yield place, f"says less than the steps like it: {', '.join(lacking)}; add it here, or in rests_on"


def _zones(_: Loaded, step: Step) -> frozenset[str]:
    return frozenset(step.hands_on)


def _rests(loaded: Loaded, step: Step) -> frozenset[str]:
    return frozenset(with_below(loaded.procedure, step.works[0])[1:])


def _unwarned(loaded: Loaded) -> Found:
    """Give every step with a tool, with hot parts or with vapour that has no warning; of sniffing, the first."""
    sniffed = False
    for step in loaded.procedure.steps:
        first = not sniffed and "sniff" in verbs_of(step)
        if first and not any(check.name == "waited" for check in step.checks):
            yield loaded.steps[step.id], "sniffs before it has aired; let the clock tell how long it did (check.waited)"
        if not sniffed and not first and set(verbs_of(step)) & words("sparks"):
            yield loaded.steps[step.id], "can make a spark, and no step before sniffs for vapour; sniff and air first"
            sniffed = True
        sniffed = sniffed or first
        if any(warning.word is not Signal.NOTICE for warning in step.warnings):
            continue
        why = hazard(step)
        if first:
            why = '"sniff" has no warning: vapour explodes'
        elif any(check.name == "heat" for check in step.checks):
            why = "feels for heat and has no warning: it burns"
        if why:
            yield loaded.steps[step.id], f"{why}; warn in this step"


def _off_the_wire(loaded: Loaded) -> Found:
    """Give every piece that is made of a wire and rests on nothing of what was made of it in the stage before."""
    made: dict[int, set[str]] = {}
    for step in loaded.procedure.steps:
        stage = _stage(step)
        if stage is None or not step.works or not step.hands_on:
            continue
        before = max((at for at in made if at < stage and made[at] - set(step.works)), default=None)
        below = {piece for one in step.works for piece in with_below(loaded.procedure, one)}
        if before is not None and below.isdisjoint(set().union(*(made[at] for at in made if at < stage))):
            wanted = " or ".join(sorted(made[before]))
            yield (
                loaded.steps[step.id].key("works"),
                f"works on {', '.join(step.works)}, made of what was made before; let it rest on {wanted}",
            )
        if SHRINKS in verbs_of(step) and (left := sorted(made.get(stage - 1, set()) - below)):
            place = loaded.steps[step.id].key("works")
            yield place, f"shrinks over {', '.join(left)} too, and does not rest on it; name it in rests_on"
        made.setdefault(stage, set()).update(step.works)


def _stage(step: Step) -> int | None:
    """Return at which stage of the work on a wire a step is, from 0."""
    verbs = [verb for verb in verbs_of(step) if verb not in words("of_wire") or verb in holds_of(step)]
    return next((at for at, of_stage in enumerate(stages()) if of_stage.intersection(verbs)), None)


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
