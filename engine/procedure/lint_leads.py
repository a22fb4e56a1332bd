"""Lint: leads of batteries. Each that comes off isolates, each that goes on feeds, and the first of them warns."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.hands import has_object, speaks_of, verbs_of, words
from engine.procedure.load import Loaded
from engine.procedure.model import Signal, Step

Found = Iterator[tuple[Place, str]]

ISOLATE = "isolate"
"""The verb of a step that takes off all that has no lead of its own: charger, solar, direct feeds."""


def lead_faults(loaded: Loaded) -> Found:
    """Give every lead that comes off or goes on unsaid, for fewer zones than the others, or without a warning."""
    yield from _unsaid(loaded)
    yield from _fewer(loaded)
    yield from _unwarned(loaded)


def moves_lead(step: Step) -> bool:
    """Return whether a step takes off or lands a lead of a battery, by its words."""
    return bool(set(verbs_of(step)) & words("battery_verbs")) and speaks_of(step, "battery_leads")


def _unsaid(loaded: Loaded) -> Found:
    for step in loaded.procedure.steps:
        verbs = set(verbs_of(step))
        place = loaded.steps[step.id].key("do")
        turned_off = any(has_object(step, verb, words("off")) for verb in verbs & words("switches"))
        turned_off |= any(has_object(step, verb, words("panel")) for verb in verbs & words("darkens"))
        put_on = any(has_object(step, verb, words("sources")) for verb in verbs & words("puts"))
        if put_on and not (step.feeds or step.isolates or step.hands_on):
            yield place, "puts a source on and feeds no zone; name what is live from here on in feeds"
        elif not (step.isolates or step.feeds or step.works or step.proves) and (
            verbs & words("isolates") or turned_off
        ):
            yield place, "takes a source off and isolates no zone; name what it cuts off in isolates"
        elif moves_lead(step) and "land" in verbs and not (step.feeds or step.hands_on):
            yield place, "lands a lead of a battery and feeds no zone; name what is live from here on in feeds"


def _fewer(loaded: Loaded) -> Found:
    """Give each lead that is said to isolate fewer zones than the others, and the last one if it feeds too few."""
    steps = loaded.procedure.steps
    off = {zone: step for step in steps if moves_lead(step) for zone in step.isolates}
    for step in steps:
        lacking = [zone for zone in off if zone not in step.isolates]
        if step.isolates and lacking and (moves_lead(step) or ISOLATE in verbs_of(step)):
            place = loaded.steps[step.id].key("isolates")
            yield place, f'takes off a lead as "{off[lacking[0]].id}" does, and {lacking[0]} is not among its zones'
    on = [step for step in steps if moves_lead(step) and step.feeds]
    put_in = {zone for step in steps if step.works for zone in step.feeds}
    if on and (lacking := [zone for zone in off if zone not in put_in]):
        place = loaded.steps[on[-1].id].key("feeds")
        yield place, f'puts back what "{off[lacking[0]].id}" took off, and {lacking[0]} is not among its zones'


def _unwarned(loaded: Loaded) -> Found:
    """Give leads of a battery of which nothing warns as they come off or go on."""
    warned_of = ""
    for step in loaded.procedure.steps:
        way = "feeds" if step.feeds else "isolates" if step.isolates else ""
        if step.hands_on or (warned_of and way and way != warned_of):
            warned_of = ""
        if way and not warned_of and moves_lead(step):
            if any(warning.word is not Signal.NOTICE for warning in step.warnings):
                warned_of = way
            else:
                place = loaded.steps[step.id]
                yield place, "moves a lead of a battery and nothing warns of it; warn in the first such step"
