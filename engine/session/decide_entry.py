"""Facts and readings: taking one or several, leaving one out with a reason, correcting one."""

from copy import copy
from dataclasses import replace
from datetime import datetime

from engine.procedure.model import Hold, Procedure, Step
from engine.quantity import Question
from engine.session.answer import NotUnderstood, understand
from engine.session.apply import after, apply
from engine.session.commands import Correct, SkipEntry, StayedWith, Take, TakeSeveral
from engine.session.decide_work import stayed_with
from engine.session.depend import rejudged_by_value, relying
from engine.session.events import Corrected, Event, NotMeasured, Stamped, Taken
from engine.session.gates import applies, entries, open_entries, shut
from engine.session.hurt import hurts, stop
from engine.session.judge import judge, uses
from engine.session.lengths import LEAST_WORDS, refused
from engine.session.outcome import Asked, Decided, Decision, Refusal
from engine.session.record import found_events
from engine.session.repeat import turn
from engine.session.state import Given, State
from engine.session.work import STILL_DEAD


def take(procedure: Procedure, state: State, command: Take, now: datetime) -> Decision:
    """Take one fact or reading, and record every finding of its step that it completes."""
    if command.entry == STILL_DEAD.id:
        return stayed_with(procedure, state, StayedWith(command.text), now)
    where = _step_of(procedure, state, command.entry, now)
    if isinstance(where, Refusal):
        return where
    if where.id in state.done:
        return Refusal(f'"{where.title}" is done; correct the entry, or do the step again', where.id)
    if refusal := _relied_on(procedure, state, command.entry):
        return refusal
    meant = understand(procedure.entry_by_id[command.entry], where.id, command.text, command.answer)
    if isinstance(meant, Question):
        return Asked(meant, command)
    if isinstance(meant, NotUnderstood):
        return Refusal(meant.sentence, where.id, column=meant.column)
    taken: tuple[Event, ...] = (*meant.before, _in_turn(procedure, state, meant.taken))
    return Decided((*taken, *_findings_after(procedure, state, where, taken, now)))


def take_several(procedure: Procedure, state: State, command: TakeSeveral, now: datetime) -> Decision:
    """Take the open entries of a step from one line, parted by ``;``, each as the ones before it ask; all or none."""
    step = procedure.step_by_id.get(command.step)
    if step is None:
        return Refusal(f'there is no step "{command.step[:60]}"')
    if step.id in state.done:
        return Refusal(f'"{step.title}" is done; correct the entry, or do the step again', step.id)
    texts = command.text.split(";")
    taken: tuple[Event, ...] = ()
    for number, text in enumerate(texts):
        found = _next_of_line(procedure, _with_entries(state, taken, now), step, text.strip(), now)
        if found is None:
            return Refusal(f"{len(texts)} values were typed; this step still asks for {number}", step.id)
        if isinstance(found, Refusal):
            before = len(";".join([*texts[:number], ""])) + len(text) - len(text.lstrip())
            return found if found.column is None else replace(found, column=before + found.column)
        taken += found
    return Decided((*taken, *_findings_after(procedure, state, step, taken, now)))


def _next_of_line(
    procedure: Procedure, state: State, step: Step, text: str, now: datetime
) -> tuple[Event, ...] | Refusal | None:
    """Return what takes the next value of a line, by the state as the values before it in the line have made it."""
    entry = next(iter(open_entries(procedure, state, step)), None)
    if entry is None:
        return None
    where = _step_of(procedure, state, entry.id, now)
    where = _relied_on(procedure, state, entry.id) or where
    if isinstance(where, Refusal):
        return where
    meant = understand(entry, step.id, text)
    if isinstance(meant, Question):
        return Refusal(f'"{text}" for {entry.ask}: {meant.sentence}; type it alone', step.id)
    if isinstance(meant, NotUnderstood):
        return Refusal(f'"{text}" for {entry.ask}: {meant.sentence}', step.id, column=meant.column)
    return (*meant.before, _in_turn(procedure, state, meant.taken))


def skip(procedure: Procedure, state: State, command: SkipEntry, now: datetime) -> Decision:
    """Say that an entry was not measured, with a reason; a firm hold has no such way round."""
    where = _step_of(procedure, state, command.entry, now)
    if isinstance(where, Refusal):
        return where
    reason = command.reason.strip()
    if where.hold is Hold.FIRM or _shows_dead(where, command.entry):
        return Refusal(f'"{where.title}" opens only on evidence; this value must be measured', where.id)
    if where.id in state.done:
        return Refusal(f'"{where.title}" is done; do the step again to change it', where.id)
    if refusal := _relied_on(procedure, state, command.entry):
        return refusal
    if _decides(procedure, command.entry):
        return Refusal("this decides which steps belong to the job; it must be given", where.id)
    if refusal := refused(reason, "say in a few words why it was not measured", where.id, least=LEAST_WORDS):
        return refusal
    event = NotMeasured(entry=command.entry, step=where.id, reason=reason)
    return Decided((event, *_findings_after(procedure, state, where, (event,), now)))


def correct(procedure: Procedure, state: State, command: Correct, now: datetime) -> Decision:
    """Correct an earlier entry: a new event; what was computed from it must be ended again, and nothing else."""
    entry = procedure.entry_by_id.get(command.entry)
    old = state.given.get(command.entry)
    if entry is None or (old is None and command.entry not in state.absent):
        asked_in = procedure.step_of_entry.get(command.entry, "")
        return Refusal(f'there is no entry "{command.entry[:60]}" to correct yet', asked_in)
    reason, own = command.reason.strip(), procedure.step_of_entry[command.entry]
    if refusal := refused(reason, "say in a few words why it is corrected", own, least=LEAST_WORDS):
        return refusal
    step = procedure.step_by_id[own]
    if not _asked(procedure, state, step, command.entry):
        return Refusal(f'"{entry.ask}" is not asked in this job', step.id)
    if old is None and isinstance(where := _step_of(procedure, state, command.entry, now), Refusal):
        return where  # what was not measured then is measured now
    meant = understand(entry, step.id, command.text, command.answer)
    if isinstance(meant, Question):
        return Asked(meant, command)
    if isinstance(meant, NotUnderstood):
        return Refusal(meant.sentence, step.id, column=meant.column)
    was = old.taken.raw if old else "not measured"
    rejudged = rejudged_by_value(procedure, state, command.entry, Given(meant.taken, 0, "").value)
    fixed = Corrected(entry=command.entry, was=was, reason=reason, rejudged=rejudged)
    again = replace(meant.taken, turn=old.taken.turn if old else None)
    events = (fixed, *meant.before, again)
    halts = stop(procedure, hurts(procedure, state, {command.entry}), after(state, events))
    return Decided((*events, *(halts or ())))


def _step_of(procedure: Procedure, state: State, entry: str, now: datetime) -> Step | Refusal:
    if entry not in procedure.entry_by_id:
        return Refusal(f'this procedure asks for nothing named "{entry[:60]}"')
    step = procedure.step_by_id[procedure.step_of_entry[entry]]
    if not _asked(procedure, state, step, entry):
        return Refusal(f'"{procedure.entry_by_id[entry].ask}" is not asked in this job', step.id)
    if needs := shut(procedure, state, step, now, anew=True):
        return Refusal(f'"{step.title}" {needs[0].sentence}', needs[0].step, tuple(n.step for n in needs))
    return step


def _asked(procedure: Procedure, state: State, step: Step, entry: str) -> bool:
    return applies(procedure, state, step) and entry in {e.id for e in entries(procedure, state, step)}


def _relied_on(procedure: Procedure, state: State, entry: str) -> Refusal | None:
    """A value that another step was settled with is corrected, with a reason, never typed over."""
    if entry not in state.given and entry not in state.absent:
        return None
    step = relying(procedure, state, entry)
    if step is None:
        return None
    own = procedure.step_of_entry[entry]
    return Refusal(f'"{step.title}" was settled with this value; correct it, with a reason', own)


def _in_turn(procedure: Procedure, state: State, taken: Taken) -> Taken:
    """Return a reading with its number, if it is the second or a later one of its entry."""
    wanted = turn(procedure.entry_by_id[taken.entry], state.given.get(taken.entry), state.instruments)
    return replace(taken, turn=wanted) if wanted > 1 else taken


def _decides(procedure: Procedure, entry: str) -> bool:
    for step in procedure.steps:
        whens = [step.when, *(c.when for c in step.checks), *(e.when for e in procedure.entries_of(step))]
        if any(when is not None and entry in when.names for when in whens):
            return True
    return False


def _findings_after(
    procedure: Procedure, state: State, step: Step, taken: tuple[Event, ...], now: datetime
) -> tuple[Event, ...]:
    """Return the findings of the step that are new by what was taken, and the STOP if one there or elsewhere hurts."""
    moved = {event.entry for event in taken if isinstance(event, Taken | NotMeasured)}
    later = _with_entries(state, taken, now)
    judged = judge(procedure, later, step) if any(uses(procedure, step, entry) for entry in moved) else {}
    found = found_events(state, step, judged)
    halts = stop(procedure, hurts(procedure, state, moved), later) or ()
    return (*found, *(event for event in halts if event not in found))


def _shows_dead(step: Step, entry: str) -> bool:
    """True if hands go on by this value: it is judged in a step that proves a zone dead."""
    return bool(step.proves_dead) and any(entry in limit.expression.names for limit in step.limits)


def _with_entries(state: State, taken: tuple[Event, ...], now: datetime) -> State:
    """Return the state as it will be to judge by, with entries that are not recorded yet."""
    later = copy(state)
    later.given, later.absent, later.absent_in = dict(state.given), dict(state.absent), dict(state.absent_in)
    later.findings, later.recent = {}, []
    at = now.isoformat(timespec="seconds")
    for event in taken:
        apply(later, Stamped(state.count, at, state.last_mono, event))
    return later
