"""Lint: the orders of work that zones and pieces allow, searched whole with the session's own gates."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.jobs import TooManyJobs, jobs
from engine.procedure.lint_zones import touching
from engine.procedure.load import Loaded
from engine.session.all_orders import search_zone
from engine.session.all_pairs import stale_proofs
from engine.session.small_job import Offence

MOST_TOLD = 12
"""Commands of a way that are told at most, the last ones; a project rule."""


def order_offences(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give each zone that some order leads hands to while it may be live, and each proof older than its work."""
    procedure = loaded.procedure
    for zone in procedure.zones:
        try:
            found = search_zone(procedure, zone.id, jobs(procedure, touching(procedure, zone.id)))
        except TooManyJobs:
            continue  # a rule of the zones says so
        if found.offence:
            yield _place(loaded, found.offence), f"{zone.name}: {_told(found.offence)}"
    for offence in stale_proofs(procedure, procedure.steps):
        yield _place(loaded, offence), _told(offence)


def _place(loaded: Loaded, offence: Offence) -> Place:
    return loaded.steps.get(offence.step, loaded.place)


def _told(offence: Offence) -> str:
    return f"{offence.sentence}, by: {', '.join(offence.way[-MOST_TOLD:])}"
