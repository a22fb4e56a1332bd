"""A pause for the eye: the steps that a technician did in one go, as a counted list, each with its state."""

from datetime import datetime

from engine.procedure.model import Procedure, Step
from engine.session.gates import applicable
from engine.session.pauses import at_pause, pause_of
from engine.session.state import State
from engine.view.models import PauseItem, PauseView, StepView
from engine.view.step import place, previous_step, step_view
from engine.view.words import count


def pause_view(procedure: Procedure, state: State, step_id: str, now: datetime) -> PauseView | None:
    """Return the pause that a step belongs to, or None if it stands alone or the person works step by step."""
    if not at_pause(procedure, state, step_id):
        return None
    steps = pause_of(procedure, state, step_id)
    views = [step_view(procedure, state, step.id, now) for step in steps]
    return PauseView(
        place=_place(procedure, state, steps),
        items=tuple(_item(state, view) for view in views),
        demo=state.demo,
        left_to_do=tuple(state.items.values()),
        previous=previous_step(procedure, state, steps[0].id) or "",
    )


def _place(procedure: Procedure, state: State, steps: tuple[Step, ...]) -> str:
    """Return the place line: "Steps 24 to 28 of 57", and what a step's place line says of its last step."""
    of_job = applicable(procedure, state)
    numbers = [n for n, step in enumerate(of_job, start=1) if step.id in {each.id for each in steps}]
    rest = place(procedure, state, steps[-1], numbers[-1], of_job).partition(" of ")[2]
    return f"Steps {numbers[0]} to {numbers[-1]} of {rest}"


def _item(state: State, view: StepView) -> PauseItem:
    worst = view.verdicts[0] if view.verdicts else None
    begun = view.id in state.begun and view.status == "open"
    return PauseItem(
        step=view.id,
        title=view.title,
        action=view.action,
        status="begun" if begun else view.status,
        opens=bool(view.rows or view.parts) or not (view.ready or view.shut),
        asks=_asks(view),
        label=worst.label if worst else "",
        verdict=worst.verdict if worst else "",
        shut=view.shut,
    )


def _asks(view: StepView) -> str:
    """Return what a step still asks for: "3 values", "2 parts"; empty if nothing."""
    rows = sum(row.state == "open" for row in view.rows)
    parts = sum(not part.seen for part in view.parts)
    said = (count(rows, "value") if rows else "", count(parts, "part") if parts else "")
    return ", ".join(text for text in said if text)
