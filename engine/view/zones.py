"""Where is power, where are my hands: how each zone of the job stands, in words."""

from collections.abc import Iterable
from datetime import datetime

from engine.procedure.model import Procedure, Step, Zone
from engine.session.boat import OtherJob
from engine.session.decide_work import by_now
from engine.session.gates import applicable, current_step
from engine.session.state import State
from engine.session.work import DEAD, DOUBT, LIVE, OFF, stands
from engine.view.models import WhereView, ZoneRow
from engine.view.words import since

_WORDS = {
    LIVE: "live",
    OFF: "off, unproved",
    DOUBT: "in doubt, nothing was entered for {doubt}",
    DEAD: "dead, proved {ago}",
}


def step_zones(procedure: Procedure, state: State, step: Step, now: datetime) -> tuple[ZoneRow, ...]:
    """Return how the zones that ``step`` has to do with stand at ``now``, those that it has hands on first."""
    touched = {*step.hands_on, *step.isolates, *step.proves_dead, *step.feeds}
    at = current_step(procedure, state, now)
    zones = (zone for zone in _zones(procedure, state) if zone.id in touched)
    rows = (_row(procedure, state, zone, at, step, now) for zone in zones)
    return tuple(sorted(rows, key=lambda row: not row.hands))


def where_view(procedure: Procedure, state: State, now: datetime, beside: Iterable[OtherJob] = ()) -> WhereView:
    """Return where power is and where hands are: zones, what was left how, what else is open on this boat."""
    state = by_now(procedure, state, now)
    at = current_step(procedure, state, now)
    step = procedure.step_by_id[at] if at else None
    return WhereView(
        zones=tuple(_row(procedure, state, zone, at, step, now) for zone in _zones(procedure, state)),
        physical=tuple(f"{topic}: {words}" for topic, words in state.physical.items()),
        beside=tuple(job.row for job in beside),
    )


def _zones(procedure: Procedure, state: State) -> tuple[Zone, ...]:
    """Return the zones that hands go on anywhere in this job."""
    used = {zone for step in applicable(procedure, state) for zone in step.hands_on}
    return tuple(zone for zone in procedure.zones if zone.id in used)


def _row(procedure: Procedure, state: State, zone: Zone, at: str | None, step: Step | None, now: datetime) -> ZoneRow:
    how, proof = stands(procedure, state, zone.id, at)
    ago = since(state.done[proof].at, now).replace("minute", "min").replace("mins", "min") if proof else ""
    hands = ("hands may go here" if how == DEAD else "hands off") if step and zone.id in step.hands_on else ""
    return ZoneRow(zone.name, how, _WORDS[how].format(ago=ago, doubt=state.doubt), hands)
