"""Stopping a job that cannot go on, closing it, and answering the dated looks afterwards."""

from datetime import datetime, timedelta

from engine.finding import Verdict
from engine.procedure.model import Hold, Procedure, Step
from engine.session.commands import Close, FollowUp, Stop
from engine.session.decide_step import wanting
from engine.session.events import Closed, DueSet, FollowedUp, Stopped
from engine.session.gates import applicable
from engine.session.judge import judge
from engine.session.lengths import LEAST_REASON, MOST_NAME, refused
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import FoundState, State
from engine.session.work import beneath, wrong_at_end


def stop(procedure: Procedure, state: State, command: Stop, now: datetime) -> Decision:
    """End the job unfinished, saying why and what is live, loose and tagged."""
    reason, left = command.reason.strip(), command.state.strip()
    why = f"say in {LEAST_REASON} characters or more why it cannot go on"
    if refusal := refused(reason, why, least=LEAST_REASON):
        return refusal
    if refusal := refused(left, "say what is live, what is loose and what is tagged"):
        return refusal
    return Decided((Stopped(reason=reason, state=left),))


def close(procedure: Procedure, state: State, command: Close, now: datetime) -> Decision:
    """Close the job: every step done, nothing left to do, every hold point looked at once more."""
    steps = applicable(procedure, state)
    if undone := [s for s in steps if s.id not in state.done]:
        return Refusal(f'still to do: "{undone[0].title}"', undone[0].id, tuple(s.id for s in undone))
    if state.items:
        item, says = next(iter(state.items.items()))
        return Refusal(f"left to do: {says}", _closer(procedure, item), tuple(state.items))
    for step in steps:
        if step.hold is not Hold.NONE and (refusal := wanting(procedure, state, step, judge(procedure, state, step))):
            return refusal
    dated = [
        DueSet(item=due.id, says=due.says, on=(now + timedelta(seconds=due.after_s)).isoformat(timespec="seconds"))
        for step in steps
        for due in step.due
    ]
    if wrong := wrong_at_end(procedure, state):
        return Refusal(wrong.sentence, wrong.step)
    return Decided((*dated, _closed(procedure, state)))


def _closed(procedure: Procedure, state: State) -> Closed:
    standing = list(state.findings.values())
    deviations = sum(1 for f in standing if f.deviation)
    bad = {str(Verdict.MISSING), str(Verdict.UNDECIDED), str(Verdict.FAIL)}
    holds = {s.id for s in procedure.steps if s.hold is not Hold.NONE}
    unclear = any(f.verdict in bad for (step, _), f in state.findings.items() if step in holds)
    marginals = sum(1 for f in standing if f.accepted)
    fails = [f"{step.title}: {sentence}" for step, sentence in unmended(procedure, state)]
    return Closed(
        clean=deviations == 0 and not unclear and not fails,
        deviations=deviations,
        missing=len(state.absent),
        marginals=marginals,
        standing=fails,
    )


def unmended(procedure: Procedure, state: State) -> tuple[tuple[Step, str], ...]:
    """Return the fails of a firm hold that were not mended, each with its step.

    What was measured good again stands all the same if the step proves a piece or names a remedy, and none of the work
    that it rests on was done again: wires that were reversed do not turn by a second look.
    """
    known = procedure.step_by_id
    return tuple(
        (known[step], fail.sentence)
        for (step, _), fail in state.unmended.items()
        if step in known and not (fail.good_again and _mended(procedure, state, known[step], fail))
    )


def _mended(procedure: Procedure, state: State, step: Step, fail: FoundState) -> bool:
    if not (step.proves or step.mends):
        return True
    return any(procedure.step_by_id[s].works for s in (step.id, *beneath(procedure, state, step)) if s in fail.redone)


def _closer(procedure: Procedure, item: str) -> str:
    return next((s.id for s in procedure.steps if item in s.closes), "")


def follow_up(procedure: Procedure, state: State, command: FollowUp, now: datetime) -> Decision:
    """Answer a dated look, after closing."""
    if not state.closed:
        return Refusal("a dated look is answered after the job is closed")
    if command.item not in state.due:
        return Refusal(f'there is no dated look "{command.item[:40]}" in this job')
    outcome, person = command.outcome.strip(), command.person.strip()
    if refusal := refused(outcome, "say what was found") or refused(person, "", least=0, most=MOST_NAME):
        return refusal
    return Decided((FollowedUp(item=command.item, outcome=outcome, person=person),))
