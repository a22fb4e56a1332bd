"""The screen after a break: what is live and loose, the last entries, what expired, what comes next."""

from collections.abc import Iterable
from datetime import datetime

from engine.procedure.model import Procedure
from engine.session.boat import OtherJob
from engine.session.decide_people import AWAY_S
from engine.session.events import Deviated, Noted, NotMeasured, Stamped, StepDone, Taken
from engine.session.gates import applicable, current_step
from engine.session.said import shown
from engine.session.standing import numbers
from engine.session.state import State
from engine.session.work import ended_by, proofs_gone
from engine.view.models import ReturnView
from engine.view.words import span

BACK = 3
"""How many of the last recorded steps are read again. Source: handbook for aircraft mechanics, as quoted."""


def return_view(procedure: Procedure, state: State, now: datetime, beside: Iterable[OtherJob] = ()) -> ReturnView:
    """Return what a person sees first on coming back; ``beside`` are the other jobs open on this boat."""
    step_id = current_step(procedure, state, now)
    steps = applicable(procedure, state)
    number = next((n for n, s in enumerate(steps, start=1) if s.id == step_id), len(steps))
    title = f'step {number} of {len(steps)}, "{procedure.step_by_id[step_id].title}"' if step_id else "the closing"
    last_steps = tuple(_said(procedure, x) for x in state.recent if not isinstance(x.event, Noted))
    return ReturnView(
        title=f"{procedure.title} - {state.asset}",
        away=f"away for {span(state.away_s)}",
        line=state.left_line,
        physical=tuple(f"{topic}: {words}" for topic, words in state.physical.items()),
        last=last_steps[-BACK:],
        expired=_to_prove(procedure, state),
        left_to_do=tuple(state.items.values()),
        next_step=f"next: {title}",
        asks_to_look=state.away_s >= AWAY_S,
        beside=tuple(job.row for job in beside),
    )


def _to_prove(procedure: Procedure, state: State) -> tuple[str, ...]:
    """Return which dead proofs are gone or in doubt, one sentence for each reason."""
    number = numbers(procedure, state)
    by_reason: dict[str, list[str]] = {}
    for proof in proofs_gone(procedure, state):
        if proof in state.doubted:
            why = f"in doubt, nothing was entered for {state.doubt}; you are asked before hands go on"
        else:
            why = f"ended by {ended_by(procedure, state.ended[proof])}; prove it dead again before hands go on"
        by_reason.setdefault(why, []).append(str(number[proof]))
    return tuple(f"dead proof, step {', '.join(steps)}: {why}" for why, steps in by_reason.items())


def _said(procedure: Procedure, stamped: Stamped) -> str:
    event = stamped.event
    if isinstance(event, Taken):
        entry = procedure.entry_by_id.get(event.entry)
        return f"{entry.ask}: {shown(entry, event)}" if entry else event.raw
    if isinstance(event, NotMeasured):
        return f"not measured: {event.reason}"
    if isinstance(event, StepDone):
        step = procedure.step_by_id.get(event.step)
        return f'done: "{step.title}"' if step else "done"
    return f"deviation: {event.reason}" if isinstance(event, Deviated) else ""
