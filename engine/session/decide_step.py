"""Ending a step, doing it again, and naming the parts that are on the wire."""

from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import Hold, Procedure, Step
from engine.session.allowed import ACCEPT, EVIDENCE, ON, needed
from engine.session.commands import Finish, NamePart, Redo
from engine.session.depend import rejudged_by_loss
from engine.session.events import Event, HoldCleared, ItemFinished, ItemLeft, Named, Redone, StepDone
from engine.session.gates import applicable, applies, fresh, open_entries, shut
from engine.session.judge import judge, unjudged
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.record import found_events, is_recorded
from engine.session.state import State


def name_part(procedure: Procedure, state: State, command: NamePart, now: datetime) -> Decision:
    """Record that a part is on the wire."""
    step = _open_step(procedure, state, command.step, now, anew=True)
    if isinstance(step, Refusal):
        return step
    if command.part not in {part.id for part in step.parts}:
        return Refusal(f'"{step.title}" has no part "{command.part[:40]}"', step.id)
    if command.part in state.named.get(step.id, ()):
        return Refusal("that part is already named", step.id)
    return Decided((Named(step=step.id, part=command.part),))


def finish(
    procedure: Procedure, state: State, command: Finish, now: datetime, judged: dict[str, Finding] | None = None
) -> Decision:
    """End a step: every value taken or left out with a reason, every part named, every finding settled.

    ``judged`` are the step's findings in this very state, if somebody has them already.
    """
    step = _open_step(procedure, state, command.step, now)
    if isinstance(step, Refusal):
        return step
    if step.id not in state.rejudged and not fresh(step, state, now):
        return Refusal(f'the readings of "{step.title}" are too old by now; do the step again', step.id)
    findings = judge(procedure, state, step) if judged is None else judged
    if refusal := wanting(procedure, state, step, findings):
        return refusal
    found = found_events(procedure, state, step, findings)
    return Decided((*found, *_cleared(state, step), _done(procedure, state, step), *_items(procedure, state, step)))


def wanting(procedure: Procedure, state: State, step: Step, findings: dict[str, Finding]) -> Refusal | None:
    """Return why a step cannot end yet, or None."""
    if still := open_entries(procedure, state, step):
        return Refusal(f"still to give: {still[0].ask}", step.id, tuple(e.id for e in still))
    named = state.named.get(step.id, ())
    if unseen := [part for part in step.parts if part.id not in named]:
        return Refusal(f"still to see on the wire: {unseen[0].name}", step.id, tuple(p.id for p in unseen))
    if (lacking := unjudged(procedure, state, step)) is not None:
        where = procedure.step_of_entry[lacking.id]
        asked_in = procedure.step_by_id[where].title
        return Refusal(f'cannot be judged before "{asked_in}" gives: {lacking.ask}', where, (lacking.id,))
    for key, finding in findings.items():
        need = needed(finding.verdict, step.hold, firm=finding.firm)
        if need != ON and not _settled(state, step, key, finding):
            return Refusal(_what_next(finding, need), step.id, (key,))
    return None


def _settled(state: State, step: Step, key: str, finding: Finding) -> bool:
    need = needed(finding.verdict, step.hold, firm=finding.firm)
    if need == EVIDENCE or not is_recorded(state, step.id, key, finding):
        return False
    known = state.findings[step.id, key]
    return bool(known.deviation or (need == ACCEPT and known.accepted))


def _what_next(finding: Finding, need: str) -> str:
    if need == EVIDENCE:
        return f"{finding.sentence}; only evidence opens this hold"
    if need == ACCEPT:
        return f"{finding.sentence}; accept it with a reason, or mend it"
    return f"{finding.sentence}; mend it, or go on as a deviation with reason and initials"


def redo(procedure: Procedure, state: State, command: Redo, now: datetime) -> Decision:
    """Do a step again: it and every step that rests on it lose their readings and must be proved again."""
    step = procedure.step_by_id.get(command.step)
    if step is None or not applies(procedure, state, step):
        return Refusal(f'there is no step "{command.step[:60]}" in this job')
    if step.id not in state.begun:
        return Refusal(f'"{step.title}" has not been done yet', step.id)
    if needs := shut(procedure, state, step, now, anew=True):
        return Refusal(f'"{step.title}" {needs[0].sentence}', needs[0].step, tuple(n.step for n in needs))
    voided = void_with(procedure, state, step.id)
    reopened = [
        ItemLeft(item=item, says=state.finished[item], step=step.id)
        for s in applicable(procedure, state)
        if s.id in voided
        for item in s.closes
        if item in state.finished
    ]
    rejudged = rejudged_by_loss(procedure, state, voided)
    return Decided((Redone(step=step.id, voided=voided, rejudged=rejudged), *reopened))


def void_with(procedure: Procedure, state: State, step_id: str) -> list[str]:
    """Return ``step_id`` and every step begun so far that doing it again makes void, in working order."""
    gone: set[str] = set()
    to_do = [step_id]
    while to_do:
        one = to_do.pop()
        if one not in gone:
            gone.add(one)
            to_do.extend(procedure.step_by_id[one].voids)
    begun = state.begun | {step_id}
    return [s.id for s in procedure.steps if s.id in gone and s.id in begun]


def _open_step(
    procedure: Procedure, state: State, step_id: str, now: datetime, *, anew: bool = False
) -> Step | Refusal:
    step = procedure.step_by_id.get(step_id)
    if step is None or not applies(procedure, state, step):
        return Refusal(f'there is no step "{step_id[:60]}" in this job')
    if step_id in state.done:
        return Refusal(f'"{step.title}" is done already', step_id)
    if needs := shut(procedure, state, step, now, anew=anew):
        return Refusal(f'"{step.title}" {needs[0].sentence}', needs[0].step, tuple(n.step for n in needs))
    return step


def _done(procedure: Procedure, state: State, step: Step) -> StepDone:
    """A step that is only ended again changes nothing on the boat: it ends no proof and leaves nothing otherwise."""
    if step.id in state.rejudged:
        return StepDone(step=step.id)
    begun = state.begun - state.ended if step.ends else ()
    ended = [s for s in step.ends if s in begun]
    leaves = [f"{topic}: {words}" for topic, words in step.leaves.items()]
    return StepDone(step=step.id, ended=ended, leaves=leaves)


def _cleared(state: State, step: Step) -> tuple[Event, ...]:
    if step.hold is Hold.NONE:
        return ()
    deviated = any(f.deviation for key, f in state.findings.items() if key[0] == step.id)
    return (HoldCleared(step=step.id, firm=step.hold is Hold.FIRM, by="deviation" if deviated else "evidence"),)


def _items(procedure: Procedure, state: State, step: Step) -> tuple[Event, ...]:
    if step.id in state.rejudged:
        return ()
    left = tuple(ItemLeft(item=item.id, says=item.says, step=step.id) for item in step.opens)
    return (*left, *(ItemFinished(item=item, step=step.id) for item in step.closes if item in state.items))
