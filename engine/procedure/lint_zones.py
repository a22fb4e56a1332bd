"""Lint: zones that hands go on: what isolates them and proves them dead before, and how they are left."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from engine.procedure.faults import Place
from engine.procedure.jobs import MOST_WAYS, TooManyJobs, jobs
from engine.procedure.load import Loaded
from engine.procedure.model import Procedure, Step, Zone
from engine.procedure.model_circuit import StepCheck, operand_ids
from engine.trade.dead import LIVE_V

Found = Iterator[tuple[Place, str]]

DEAD = "dead"
"""The check that judges a dead proof."""


MOST_TAKES_S = 2 * 3600.0
"""How long hands may be on a zone without an entry [s]: 2 h (project rule)."""


class MadeSafe(NamedTuple):
    """What makes a zone safe for a step of a job: since it was fed last before, what isolates it and proves it dead."""

    step: Step
    isolators: tuple[Step, ...]
    provers: tuple[Step, ...]
    fed_by: Step | None


def touching(procedure: Procedure, zone: str) -> tuple[Step, ...]:
    """Return the steps that do anything to a zone."""
    return tuple(s for s in procedure.steps if zone in (*s.isolates, *s.proves_dead, *s.feeds, *s.hands_on))


def zone_faults(loaded: Loaded) -> Found:
    """Give every zone under hands without isolation or proof, every proof that rests on nothing, every wrong end."""
    for zone in loaded.procedure.zones:
        place = loaded.place.key("zone").row(zone.id)
        try:
            in_jobs = jobs(loaded.procedure, touching(loaded.procedure, zone.id))
        except TooManyJobs:
            yield place, f"its conditions take more than {MOST_WAYS} ways to answer; not all its jobs were looked at"
            continue
        safes = [safe for steps in in_jobs for safe in _made_safe(steps, zone.id)]
        yield from _unsafe(loaded, zone, safes)
        yield from _unproved(loaded, zone, safes)
        yield from _left_wrong(loaded, zone, in_jobs)
    yield from _proved_apart(loaded)
    for step in loaded.procedure.steps:
        if step.hands_on and step.takes_s > MOST_TAKES_S:
            yield (
                loaded.steps[step.id].key("takes"),
                f"lets hands work {step.takes_s / 3600:g} h on one proof; {MOST_TAKES_S / 3600:g} h at most",
            )


def untouched_zones(loaded: Loaded) -> Found:
    """Give every zone that no hands go on: it guards nothing."""
    touched = {zone for step in loaded.procedure.steps for zone in step.hands_on}
    for zone in loaded.procedure.zones:
        if zone.id not in touched:
            yield loaded.place.key("zone").row(zone.id), "no step has hands on it; name those that do, or take it out"


def _made_safe(steps: Sequence[Step], zone: str) -> Iterator[MadeSafe]:
    """Give for each step of a job that proves a zone or has hands on it what makes it safe."""
    isolators: tuple[Step, ...] = ()
    provers: tuple[Step, ...] = ()
    fed_by = None
    for step in steps:
        if zone in (*step.proves_dead, *step.hands_on):
            itself = (step,) if zone in step.isolates and zone not in step.hands_on else ()
            yield MadeSafe(step, (*isolators, *itself), provers, fed_by)
        if zone in step.feeds:
            isolators, provers, fed_by = (), (), step
        isolators += (step,) if zone in step.isolates else ()
        provers += (step,) if zone in step.proves_dead else ()


def _unsafe(loaded: Loaded, zone: Zone, safes: Sequence[MadeSafe]) -> Found:
    for step, isolators, provers, fed_by in safes:
        since = f' after "{fed_by.id}" feeds it' if fed_by else ""
        for key, what in (("hands_on", "hands go on"), ("proves_dead", "it proves dead")):
            if zone.id not in getattr(step, key):
                continue
            place = loaded.steps[step.id].key(key).item(getattr(step, key).index(zone.id), key)
            if not isolators:
                yield place, f'{what} "{zone.id}" and no step isolates it before{since}; name it in what isolates it'
            elif key == "hands_on" and not provers:
                yield place, f'{what} "{zone.id}" and no step proves it dead before{since}; measure where hands go'


def _unproved(loaded: Loaded, zone: Zone, safes: Sequence[MadeSafe]) -> Found:
    """Give each dead proof that no dead check judges, and each step of one of which no volts are judged.

    A zone that was fed and is isolated once more may be proved by a limit.
    """
    for step, _, provers, fed_by in safes:
        judging = [(p.id, check) for p in provers for check in p.checks if check.name == DEAD]
        counted = frozenset().union(*(_volts(check) for _, check in judging))
        for prover in provers if zone.id in step.hands_on else ():
            place = loaded.steps[prover.id].key("proves_dead")
            if not judging and fed_by is None:
                yield place, f'proves "{zone.id}" dead, and no step of this proof has a dead check; give it check.dead'
            elif counted.isdisjoint(e.id for e in prover.readings if e.unit == "V") and not _judges_dead(prover):
                into = f'to the points of the dead check of "{judging[0][0]}"' if judging else "to a dead check"
                yield place, f'proves "{zone.id}" dead, and no volts of it are judged; add them {into}, or limit them'


def _volts(check: StepCheck) -> frozenset[str]:
    """Return the readings on which a dead check rests: its points, and the known source before them."""
    return operand_ids(given for name, given in check.inputs.items() if name in ("points", "known_before"))


def _judges_dead(step: Step) -> bool:
    """Return whether a limit of a step fails for volts of its own that are live, whatever their sign."""
    own = {entry.id for entry in step.readings if entry.unit == "V"}
    limits = [limit.expression for limit in step.limits if limit.expression.names & own]
    return any(all(each.holds(dict.fromkeys(own, sign * LIVE_V * 2)) is False for sign in (1, -1)) for each in limits)


def _left_wrong(loaded: Loaded, zone: Zone, in_jobs: Sequence[tuple[Step, ...]]) -> Found:
    """Give the step that leaves a zone otherwise than the procedure says."""
    for steps in in_jobs:
        last = next((s for s in reversed(steps) if zone.id in (*s.isolates, *s.feeds)), None)
        if last is None:
            continue
        live = zone.id in last.feeds
        if live != (zone.left == "live"):
            key = "feeds" if live else "isolates"
            wanted = "feed it" if zone.left == "live" else "isolate it"
            yield (
                loaded.steps[last.id].key(key),
                f'leaves "{zone.id}" {"live" if live else "dead"} in some job, and it is to be left {zone.left}; '
                f"let a later step {wanted}",
            )


def _proved_apart(loaded: Loaded) -> Found:
    """Give each step whose volts a dead check judges and which does not prove the zones of that check."""
    procedure = loaded.procedure
    for step in procedure.steps:
        for check in step.checks:
            for entry in sorted(_volts(check)) if check.name == DEAD else ():
                taken_in = procedure.step_by_id.get(procedure.step_of_entry.get(entry, ""))
                if taken_in is None or taken_in is step:
                    continue
                place = loaded.steps[taken_in.id]
                known = entry in operand_ids(given for name, given in check.inputs.items() if name == "known_before")
                apart = set(step.proves_dead) - set(taken_in.proves_dead) if known else set()
                if apart or not set(taken_in.proves_dead) & set(step.proves_dead):
                    zones = ", ".join(sorted(apart or set(step.proves_dead)))
                    yield (
                        place,
                        f'{entry} belongs to the dead proof of "{step.id}", and this step does not prove it; '
                        f"add proves_dead: {zones}",
                    )
