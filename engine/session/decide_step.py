"""Ending a step, doing it again, and naming the parts that are on the wire."""

from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import Hold, Procedure, Step
from engine.procedure.model_circuit import StepCheck, operand_ids
from engine.session.allowed import ACCEPT, EVIDENCE, ON, needed
from engine.session.commands import Finish, NamePart
from engine.session.events import Event, HoldCleared, ItemFinished, ItemLeft, Named, StepDone
from engine.session.gates import applies, fresh, open_entries, shut
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
    found = found_events(state, step, findings)
    return Decided((*found, *_cleared(state, step), _done(state, step), *_items(procedure, state, step)))


def wanting(procedure: Procedure, state: State, step: Step, findings: dict[str, Finding]) -> Refusal | None:
    """Return why a step cannot end yet, or None."""
    if still := open_entries(procedure, state, step):
        return Refusal(f"still to give: {still[0].ask}", step.id, tuple(e.id for e in still))
    named = state.named.get(step.id, ())
    if unseen := [part for part in step.parts if part.id not in named]:
        return Refusal(f"still to see on the wire: {unseen[0].name}", step.id, tuple(p.id for p in unseen))
    if refusal := _known_source_around(procedure, state, step):
        return refusal
    if (lacking := unjudged(procedure, state, step)) is not None:
        where = procedure.step_of_entry[lacking.id]
        asked_in = procedure.step_by_id[where].title
        return Refusal(f'cannot be judged before "{asked_in}" gives: {lacking.ask}', where, (lacking.id,))
    for key, finding in findings.items():
        need = needed(finding.verdict, step.hold, firm=finding.firm)
        if need != ON and not _settled(state, step, key, finding):
            return Refusal(_what_next(finding, need), step.id, (key,))
    return None


def _known_source_around(procedure: Procedure, state: State, step: Step) -> Refusal | None:
    """The meter is proved on the known source before the points and after them: in this order, or it proves nothing."""
    for check in (check for check in step.checks if check.name == "dead"):
        points = _measured(state, check, "points")
        if not points:
            continue
        for entry, n in _measured(state, check, "known_before").items():
            if n > min(points.values()):
                where = procedure.step_of_entry[entry]
                return Refusal("the known source was measured after the points: once more, then the points", where)
        for entry, n in _measured(state, check, "known_after").items():
            if n < max(points.values()):
                return Refusal("measure the known source again, after the points", step.id, (entry,))
    return None


def _measured(state: State, check: StepCheck, name: str) -> dict[str, int]:
    """Return the given entries of an input of a check, with where among the events each was measured."""
    entries = operand_ids([check.inputs[name]]) if name in check.inputs else ()
    return {entry: given.measured_n for entry in entries if (given := state.given.get(entry)) is not None}


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


def _done(state: State, step: Step) -> StepDone:
    """A step that is only ended again changes nothing on the boat: it leaves nothing otherwise."""
    if step.id in state.rejudged:
        return StepDone(step=step.id)
    leaves = [f"{topic}: {words}" for topic, words in step.leaves.items()]
    return StepDone(step=step.id, leaves=leaves)


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
