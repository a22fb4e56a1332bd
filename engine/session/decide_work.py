"""What touches the state of the work: doing a step again, a remedy that opens something, a gap, a STOP."""

from collections.abc import Iterable
from datetime import datetime

from engine.procedure.model import Procedure
from engine.quantity import Amount, read
from engine.session import commands as c
from engine.session import events as e
from engine.session.apply import after
from engine.session.depend import rejudged_by_loss
from engine.session.gates import applicable, applies, current_step
from engine.session.lengths import MOST_NAME, refused
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import State
from engine.session.work import fed_by, gap, relations, route, standing_proofs
from engine.trade.dead import DEAD_V


def redo(procedure: Procedure, state: State, command: c.Redo, now: datetime) -> Decision:
    """Do a step again, or mend what it found: all that rests on what is opened is made and proved again.

    Where hands go on a zone that is live by now, making it safe comes first: what becomes void is the whole route.
    """
    step = procedure.step_by_id.get(command.step)
    if step is None or not applies(procedure, state, step):
        return Refusal(f'there is no step "{command.step[:60]}" in this job')
    if step.id not in state.begun:
        return Refusal(f'"{step.title}" has not been done yet', step.id)
    if not 0 <= command.mend <= len(step.mends):
        return Refusal(f'"{step.title}" has {len(step.mends)} remedies that open something', step.id)
    mend = step.mends[command.mend - 1] if command.mend else None
    voided = route_of(procedure, state, step.id, command.mend)
    reopened = [
        e.ItemLeft(item=item, says=state.finished[item], step=step.id)
        for s in applicable(procedure, state)
        if s.id in voided
        for item in s.closes
        if item in state.finished
    ]
    rejudged = rejudged_by_loss(procedure, state, voided)
    redone = e.Redone(step=step.id, mend=mend.says if mend else "", voided=voided, rejudged=rejudged)
    return Decided((redone, *reopened))


def route_of(procedure: Procedure, state: State, step_id: str, mend: int = 0) -> list[str]:
    """Return the steps that a redo, or the remedy ``mend`` (from 1) of a step, leads through, in working order."""
    start = [step_id]
    if mend:
        opened = set(procedure.step_by_id[step_id].mends[mend - 1].works)
        start += [s.id for s in relations(procedure, state).steps if s.id in state.begun and opened & set(s.works)]
    return route(procedure, state, start)


def lapse(procedure: Procedure, state: State, now: datetime) -> e.Lapsed | None:
    """Return what a gap in the entries until ``now`` does to the dead proofs; None if it does nothing."""
    found = gap(procedure, state, now)
    if found is None:
        return None
    lost = [s for s in found.ended if s not in state.done and s not in state.rejudged]
    rejudged = rejudged_by_loss(procedure, state, lost)
    return e.Lapsed(
        gap_s=round(found.gap_s, 3), doubted=list(found.doubted), ended=list(found.ended), rejudged=rejudged
    )


_BEGINS = (e.Taken, e.NotMeasured, e.Named, e.StepDone)
"""Events that begin a step."""


def feeding(procedure: Procedure, state: State, events: Iterable[e.Event]) -> e.Fed | None:
    """Return that a zone is fed from here on, if the first of ``events`` about a step begins one that feeds it.

    Whoever has begun to land a ring has a live wire, whether the step is ended or begun once more.
    """
    begun = next((event.step for event in events if isinstance(event, _BEGINS)), "")
    step = procedure.step_by_id.get(begun)
    if step is None or not step.feeds or begun in state.begun:
        return None
    return e.Fed(step=begun, ended=fed_by(procedure, state, step))


def by_now(procedure: Procedure, state: State, now: datetime) -> State:
    """Return the state as a gap until ``now`` leaves it, before anything is entered: what a person is shown."""
    lapsed = None if state.over else lapse(procedure, state, now)
    return state if lapsed is None else after(state, (lapsed,))


def stayed_with(procedure: Procedure, state: State, command: c.StayedWith, now: datetime) -> Decision:
    """Keep the dead proofs over a gap: somebody stayed, and measures once more where hands go."""
    if not state.doubted:
        return Refusal("no dead proof is in doubt")
    if command.text.strip().lower() == LEFT:
        return _left(procedure, state, now)
    volts = read(command.text, "V")
    if not isinstance(volts, Amount):
        return Refusal(f"type the volts that the meter shows where hands go, such as 0.00; or {LEFT}")
    live = abs(volts.number) > DEAD_V
    here = current_step(procedure, state, now) or ""
    ended = sorted(state.doubted) if live else []
    stayed = e.Stayed(step=here, raw=command.text.strip(), number=volts.number, ended=ended)
    if not live:
        return Decided((stayed,))
    sentence = f"{command.text.strip()} V where hands go: it is not dead any more"
    return Decided((stayed, e.Halted(step=here, sentence=sentence, hands=LIVE_HANDS)))


def _left(procedure: Procedure, state: State, now: datetime) -> Decision:
    """Each dead proof in doubt is made again, whole."""
    events: list[e.Event] = []
    while (proof := next((p for p in standing_proofs(procedure, state) if p in state.doubted), "")) != "":
        again = redo(procedure, state, c.Redo(proof), now)
        if not isinstance(again, Decided):
            return again
        events += again.events
        state = after(state, again.events)
    return Decided(tuple(events))


LEFT = "left"
"""What is typed if nobody stayed: the dead proof is made again whole."""

LIVE_HANDS = "Hands off. Something feeds it: find the source, take it off, then prove it dead again, whole."
"""What the hands do when the point of work reads live after a gap."""


def hands_off(procedure: Procedure, state: State, command: c.HandsOff, now: datetime) -> Decision:
    """Answer a STOP."""
    return Decided((e.HandsOff(),)) if state.halted else Refusal("no STOP stands")


def hand_over(procedure: Procedure, state: State, command: c.HandOver, now: datetime) -> Decision:
    """Another person goes on: no dead proof of somebody else stands for their hands."""
    person = command.person.strip()
    if not person or person == state.person:
        return Refusal("say who goes on from here")
    if refusal := refused(person, "", most=MOST_NAME):
        return refusal
    ended = standing_proofs(procedure, state)
    lost = [s for s in ended if s not in state.done and s not in state.rejudged]
    return Decided((e.PersonChanged(person=person, ended=ended, rejudged=rejudged_by_loss(procedure, state, lost)),))
