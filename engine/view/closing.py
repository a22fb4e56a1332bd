"""The closing screen: what still blocks it, what is left by name, what was not measured, the chain's head."""

from engine.procedure.model import Procedure
from engine.session.decide_end import unmended
from engine.session.gates import applicable
from engine.session.scan import short_head
from engine.session.state import State
from engine.view.models import ClosingView, Shut
from engine.view.words import count


def closing_view(procedure: Procedure, state: State, head: str) -> ClosingView:
    """Return the closing screen of a session with the chain's head ``head``."""
    steps = applicable(procedure, state)
    undone = tuple(Shut(f'still to do: "{s.title}"', s.id) for s in steps if s.id not in state.done)
    closers = {item: next((s.id for s in steps if item in s.closes), "") for item in state.items}
    left = tuple(Shut(f"left to do: {says}", closers[item]) for item, says in state.items.items())
    asks = {e: procedure.entry_by_id[e].ask for e in state.absent if e in procedure.entry_by_id}
    can_close = not undone and not left and not state.over
    standing = tuple(f"{step.title}: {sentence}" for step, sentence in unmended(procedure, state))
    deviations = tuple(f"{f.sentence} - {f.deviation}" for f in state.findings.values() if f.deviation)
    ended = _ended(state)
    return ClosingView(
        title=ended or (_title(len(standing), len(deviations)) if can_close else "Closing - not yet"),
        can_close=can_close,
        blocks=(*undone, *left),
        left_to_do=tuple(state.items.values()),
        standing=standing,
        not_measured=tuple(f"{ask}: {state.absent[e]}" for e, ask in asks.items()),
        accepted=tuple(f"{f.sentence} - {f.accepted}" for f in state.findings.values() if f.accepted),
        deviations=deviations,
        due=_due(procedure, state),
        ended=ended,
        head=short_head(head),
        events=state.count,
    )


def _title(standing: int, deviations: int) -> str:
    """Return how a job that can be closed would close."""
    told = [f"{count(standing, 'fail')} standing"] * bool(standing) + [count(deviations, "deviation")] * bool(
        deviations
    )
    return f"Closing - not clean: {', '.join(told)}" if told else "Closing - nothing is in the way"


def _due(procedure: Procedure, state: State) -> tuple[str, ...]:
    if state.due:
        return tuple(f"{d.says} (due {d.on[:10]}){f': {d.outcome}' if d.outcome else ''}" for d in state.due.values())
    return tuple(due.says for step in applicable(procedure, state) for due in step.due)


def _ended(state: State) -> str:
    if state.stopped:
        return f"stopped, unfinished: {state.stopped}"
    if state.closed:
        return "closed, clean" if state.clean else "closed, not clean"
    return ""
