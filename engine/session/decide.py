"""``decide(procedure, state, command, now)``: events, a refusal or a question; pure, the judge of what may happen."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session import decide_end, decide_entry, decide_finding, decide_people, decide_step, decide_work
from engine.session.apply import after
from engine.session.decide_work import feeding, lapse
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import State

_WHILE_HALTED = (c.HandsOff, c.Note, c.Attach, c.Leave, c.Return, c.Stop)
"""What can be done while a STOP is not answered."""

Decider = Callable[[Procedure, State, Any, datetime], Decision]

_DECIDERS: dict[type, Decider] = {
    c.Start: decide_people.start,
    c.Take: decide_entry.take,
    c.TakeSeveral: decide_entry.take_several,
    c.SkipEntry: decide_entry.skip,
    c.Correct: decide_entry.correct,
    c.NamePart: decide_step.name_part,
    c.Finish: decide_step.finish,
    c.Redo: decide_work.redo,
    c.Accept: decide_finding.accept,
    c.Deviate: decide_finding.deviate,
    c.Note: decide_people.note,
    c.Attach: decide_people.attach,
    c.Leave: decide_people.leave,
    c.Return: decide_people.come_back,
    c.StayedWith: decide_work.stayed_with,
    c.HandsOff: decide_work.hands_off,
    c.HandOver: decide_work.hand_over,
    c.DeclareInstrument: decide_people.declare_instrument,
    c.ChooseProfile: decide_people.choose_profile,
    c.Stop: decide_end.stop,
    c.Close: decide_end.close,
    c.FollowUp: decide_end.follow_up,
}


def decide(procedure: Procedure, state: State, command: c.Command, now: datetime) -> Decision:
    """Return what comes of ``command`` in ``state`` at ``now`` (aware, UTC)."""
    if isinstance(command, c.Feeding):
        return decide(procedure, state, command.command, now)
    if isinstance(command, c.Start):
        return _DECIDERS[c.Start](procedure, state, command, now)
    if not state.procedure:
        return Refusal("the job has not begun")
    if isinstance(command, c.FollowUp):
        return decide_end.follow_up(procedure, state, command, now)
    if state.over:
        return Refusal("this job has ended; only a dated look can still be answered")
    if state.away and not isinstance(command, c.Return | c.Leave | c.Stop):
        return Refusal("the job was left; come back to it first")
    if state.halted and not isinstance(command, _WHILE_HALTED):
        return Refusal(f"STOP: {state.halted.sentence}. {state.halted.hands}", state.halted.step)
    lapsed = lapse(procedure, state, now)
    if lapsed is not None:
        state = after(state, (lapsed,))
    decided = _DECIDERS[type(command)](procedure, state, command, now)
    if not isinstance(decided, Decided):
        return decided
    first = (lapsed, feeding(procedure, state, decided.events))
    return Decided((*(event for event in first if event), *decided.events))
