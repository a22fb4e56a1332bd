"""Starting, leaving, coming back, handing over; notes, files, instruments, the rule profile."""

from datetime import datetime
from math import isfinite

from engine.procedure.model import Hold, Procedure
from engine.published.instruments import instrument_ids
from engine.published.profiles import profile_names
from engine.session import commands as c
from engine.session import events as e
from engine.session.depend import rejudged_by_loss
from engine.session.gates import current_step
from engine.session.lengths import MOST_NAME, MOST_WORDS, refused
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import State

AWAY_S = 600.0
"""Away this long or longer [s] is a break: perishable evidence is looked at. A project rule (10 minutes)."""


def start(procedure: Procedure, state: State, command: c.Start, now: datetime) -> Decision:
    """Open the job."""
    if state.procedure:
        return Refusal("the job has begun already")
    profile = command.profile or procedure.profile
    if profile not in profile_names():
        return Refusal(f'there is no rule profile "{profile[:40]}"; there are {", ".join(profile_names())}')
    asset, person, place = command.asset.strip(), command.person.strip(), command.place.strip()
    if refusal := refused(asset, "say which boat or trailer this is", most=MOST_NAME):
        return refusal
    if refusal := refused(person, "", least=0, most=MOST_NAME) or refused(place, "", least=0, most=MOST_NAME):
        return refusal
    opened = e.Opened(
        procedure=procedure.id,
        asset=asset,
        person=person,
        profile=profile,
        demo=command.demo,
        place=place,
    )
    return Decided((opened,))


def note(procedure: Procedure, state: State, command: c.Note, now: datetime) -> Decision:
    """Write a note on a step."""
    text = command.text.strip()
    if refusal := _no_step(procedure, command.step):
        return refusal
    if refusal := refused(text, f"a note has 1 to {MOST_WORDS} characters", command.step):
        return refusal
    return Decided((e.Noted(step=command.step, text=text),))


def attach(procedure: Procedure, state: State, command: c.Attach, now: datetime) -> Decision:
    """Record a file that was copied beside the log."""
    if refusal := _no_step(procedure, command.step):
        return refusal
    if not command.name or any(sign in command.name for sign in '/\\:*?"<>|') or command.name.startswith("."):
        return Refusal("a file's name is a plain name, without a folder")
    if len(command.sha256) != 64 or not set(command.sha256) <= set("0123456789abcdef") or command.size < 0:
        return Refusal("a file is recorded with its SHA-256 and its size")
    return Decided((e.Attached(step=command.step, name=command.name, sha256=command.sha256, size=command.size),))


def _no_step(procedure: Procedure, step: str) -> Refusal | None:
    """A note or file belongs to a step of the procedure, or to the job (an empty text)."""
    if step and step not in procedure.step_by_id:
        return Refusal(f'there is no step "{step[:60]}"')
    return None


def leave(procedure: Procedure, state: State, command: c.Leave, now: datetime) -> Decision:
    """Go away, with one line to oneself."""
    line = command.line.strip()
    if refusal := refused(line, "", least=0):
        return refusal
    return Decided((e.Left(step=current_step(procedure, state, now) or "", line=line),))


def come_back(procedure: Procedure, state: State, command: c.Return, now: datetime) -> Decision:
    """Come back: evidence that does not last over the time away no longer holds."""
    since = state.left_at if state.away else state.last_at
    wall_s = (now - datetime.fromisoformat(since)).total_seconds()
    away_s = max(wall_s, command.passed_s)
    begun = state.begun - state.ended
    ended = [s.id for s in procedure.steps if s.id in begun and _expired(procedure, s.id, away_s, back=wall_s < 0)]
    lost = [s for s in ended if s not in state.done and s not in state.rejudged]
    rejudged = rejudged_by_loss(procedure, state, lost)
    return Decided((e.Returned(away_s=max(0.0, away_s), ended=ended, rejudged=rejudged),))


def _expired(procedure: Procedure, step_id: str, away_s: float, *, back: bool) -> bool:
    lasts_away_s = procedure.step_by_id[step_id].lasts_away_s
    return lasts_away_s is not None and (back or (away_s >= AWAY_S and away_s >= lasts_away_s))


def hand_over(procedure: Procedure, state: State, command: c.HandOver, now: datetime) -> Decision:
    """Another person goes on, and proves the firm holds that still matter again."""
    person = command.person.strip()
    if not person or person == state.person:
        return Refusal("say who goes on from here")
    if refusal := refused(person, "", most=MOST_NAME):
        return refusal
    matters = state.begun - state.ended
    firm = [s.id for s in procedure.steps if s.hold is Hold.FIRM and s.id in matters]
    rejudged = rejudged_by_loss(procedure, state, firm)
    return Decided((e.PersonChanged(person=person, voided=firm, rejudged=rejudged),))


def declare_instrument(procedure: Procedure, state: State, command: c.DeclareInstrument, now: datetime) -> Decision:
    """Say which instrument is used and how good it is."""
    figures = (command.percent, command.counts, command.resolution)
    if command.instrument not in instrument_ids():
        return Refusal(f'there is no instrument "{command.instrument[:40]}"; there are {", ".join(instrument_ids())}')
    if not all(map(isfinite, figures)) or min(figures) < 0 or command.percent > 50:
        return Refusal("an accuracy is percent (0 to 50), counts and one last digit, none below zero")
    name, calibrated = command.name.strip(), command.calibrated.strip()
    if refusal := refused(name, "", least=0, most=MOST_NAME) or refused(calibrated, "", least=0, most=MOST_NAME):
        return refusal
    declared = e.InstrumentDeclared(
        instrument=command.instrument,
        name=name,
        percent=command.percent,
        counts=command.counts,
        resolution=command.resolution,
        calibrated=calibrated,
    )
    return Decided((declared,))


def choose_profile(procedure: Procedure, state: State, command: c.ChooseProfile, now: datetime) -> Decision:
    """Choose the rule profile: every step that was judged by rules must be ended again."""
    if command.profile not in profile_names():
        return Refusal(f'there is no rule profile "{command.profile[:40]}"; there are {", ".join(profile_names())}')
    if command.profile == state.profile:
        return Refusal(f'"{command.profile}" is the profile already')
    found = {step for step, _ in state.findings}
    judged = [s.id for s in procedure.steps if s.checks and (s.id in state.done or s.id in found)]
    return Decided((e.ProfileChosen(profile=command.profile, rejudged=judged),))
