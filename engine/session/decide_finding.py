"""Going on past a finding that did not pass: accepting a marginal one, or a deviation with reason and initials."""

from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import Procedure, Step
from engine.session.allowed import ACCEPT, DEVIATE, EVIDENCE, needed
from engine.session.commands import Accept, Deviate
from engine.session.events import Accepted, Deviated, Event
from engine.session.gates import applies, shut
from engine.session.judge import judge
from engine.session.lengths import LEAST_REASON, LEAST_WORDS, refused
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.record import found_events
from engine.session.state import State

MOST_INITIALS = 10
"""Longest initials, in letters; a project rule."""


def accept(procedure: Procedure, state: State, command: Accept, now: datetime) -> Decision:
    """Accept a marginal or undecided finding where the table allows it."""
    found = _finding(procedure, state, command.step, command.key, now)
    if isinstance(found, Refusal):
        return found
    step, finding = found
    need = needed(finding.verdict, step.hold, firm=finding.firm)
    if need != ACCEPT:
        return _cannot(step, need)
    reason = command.reason.strip()
    if refusal := refused(reason, "say in a few words why it is accepted", step.id, least=LEAST_WORDS):
        return refusal
    initials = command.initials.strip()
    if len(initials) > MOST_INITIALS:
        return Refusal(f"initials have at most {MOST_INITIALS} letters", step.id)
    event = Accepted(step=step.id, key=command.key, reason=reason, initials=initials)
    return Decided((*_seen(state, step, command.key, finding), event))


def deviate(procedure: Procedure, state: State, command: Deviate, now: datetime) -> Decision:
    """Go on as a deviation where the table allows it: never past a firm finding or on a firm hold."""
    found = _finding(procedure, state, command.step, command.key, now)
    if isinstance(found, Refusal):
        return found
    step, finding = found
    need = needed(finding.verdict, step.hold, firm=finding.firm)
    if need not in (DEVIATE, ACCEPT):
        return _cannot(step, need)
    reason, initials = command.reason.strip(), command.initials.strip()
    asks = f"a deviation needs a reason of {LEAST_REASON} characters or more"
    if refusal := refused(reason, asks, step.id, least=LEAST_REASON):
        return refusal
    if not 1 <= len(initials) <= MOST_INITIALS:
        return Refusal(f"a deviation needs initials, at most {MOST_INITIALS} letters", step.id)
    event = Deviated(step=step.id, key=command.key, verdict=str(finding.verdict), reason=reason, initials=initials)
    return Decided((*_seen(state, step, command.key, finding), event))


def _finding(
    procedure: Procedure, state: State, step_id: str, key: str, now: datetime
) -> tuple[Step, Finding] | Refusal:
    step = procedure.step_by_id.get(step_id)
    if step is None or not applies(procedure, state, step):
        return Refusal(f'there is no step "{step_id[:60]}" in this job')
    if step.id in state.done:
        return Refusal(f'"{step.title}" is done already', step.id)
    if needs := shut(procedure, state, step, now):
        return Refusal(f'"{step.title}" {needs[0].sentence}', needs[0].step, tuple(n.step for n in needs))
    finding = judge(procedure, state, step).get(key)
    return (step, finding) if finding else Refusal(f'"{step.title}" has no finding "{key[:40]}" yet', step.id)


def _seen(state: State, step: Step, key: str, finding: Finding) -> tuple[Event, ...]:
    return found_events(state, step, {key: finding})


def _cannot(step: Step, need: str) -> Refusal:
    if need == EVIDENCE:
        return Refusal("only evidence opens this; it can be stopped at and saved", step.id)
    return Refusal("that finding needs a deviation" if need == DEVIATE else "that finding passes", step.id)
