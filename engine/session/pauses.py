"""Which steps a technician may do in one go and confirm at a pause: plain steps that follow each other, few at a time.

Holds, steps with a warning or a reason to stop, what cannot be undone and what makes something live again (it ends the
proof that it was dead) are read before they are done: always alone.
Nothing is skipped at a pause: each step is ended by itself, with its gates, its readings and its findings.
"""

import itertools

from engine.procedure.keying import step_effort
from engine.procedure.model import DO_CONFIRM, Procedure, Step
from engine.session.gates import applicable
from engine.session.state import State

FEWEST, MOST = 2, 9
"""Steps of one pause. Source: project rule after pause-point practice, as quoted: 5 to 9 items."""

LONGEST_S = 90.0
"""Longest time at the keyboard in one pause [s]. Source: the same: after 60 to 90 s people take short cuts."""


def at_pause(procedure: Procedure, state: State, step_id: str) -> bool:
    """Return whether a step is confirmed at a pause, as the person works now."""
    return state.mode == DO_CONFIRM and bool(pause_of(procedure, state, step_id))


def pause_of(procedure: Procedure, state: State, step_id: str) -> tuple[Step, ...]:
    """Return the steps that are confirmed together with a step, itself among them; none if it stands alone."""
    return next((pause for pause in pauses(procedure, state) if any(s.id == step_id for s in pause)), ())


def pauses(procedure: Procedure, state: State) -> tuple[tuple[Step, ...], ...]:
    """Return every pause of this job, in working order."""
    parted = (part for run in _runs(procedure, state) for part in _parted(procedure, run))
    return tuple(part for part in parted if len(part) >= FEWEST)


def _runs(procedure: Procedure, state: State) -> list[list[Step]]:
    """Return the plain steps of this job that follow each other within a section of that style."""
    styled = {section.id for section in procedure.sections if section.style == DO_CONFIRM}
    runs: list[list[Step]] = []
    section = ""
    for step in applicable(procedure, state):
        if step.section not in styled or step.read_first:
            section = ""
            continue
        if step.section != section:
            runs.append([])
            section = step.section
        runs[-1].append(step)
    return runs


def _parted(procedure: Procedure, run: list[Step]) -> list[tuple[Step, ...]]:
    """Part a run evenly into as few pauses as the limits allow."""
    for count in range(1, len(run) + 1):
        parts = _even(run, count)
        if all(len(part) <= MOST and _seconds(procedure, part) <= LONGEST_S for part in parts):
            return parts
    return [(step,) for step in run]


def _even(run: list[Step], count: int) -> list[tuple[Step, ...]]:
    least, more = divmod(len(run), count)
    ends = [0]
    for number in range(count):
        ends.append(ends[-1] + least + (number < more))
    return [tuple(run[begin:end]) for begin, end in itertools.pairwise(ends)]


def _seconds(procedure: Procedure, steps: tuple[Step, ...]) -> float:
    return sum(step_effort(procedure, step).seconds() for step in steps)
