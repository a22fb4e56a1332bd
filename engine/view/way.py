"""The way that a command leads through, before it happens: steps done again, proofs made again, steps judged anew."""

from engine.procedure.model import Procedure, Step
from engine.session import events as e
from engine.session.outcome import Decided
from engine.session.standing import numbers
from engine.session.state import State
from engine.view.models import Way, WayStep
from engine.view.words import count


def ways(procedure: Procedure, state: State, decided: Decided) -> tuple[Way, ...]:
    """Return what has to be done again once ``decided`` is recorded, in working order; empty if nothing has."""
    found: list[Way] = []
    for event in decided.events:
        if isinstance(event, e.Redone):
            found.append(_way(procedure, state, event.mend or "Done again, in this order", event.voided))
        elif isinstance(event, e.PersonChanged):
            found.append(_way(procedure, state, "Proved dead again, before hands go on", event.ended))
        if isinstance(event, e.Redone | e.PersonChanged | e.Corrected | e.ProfileChosen):
            found.append(_way(procedure, state, "Judged anew, and only ended again", event.rejudged))
    return tuple(way for way in found if way.steps)


def _way(procedure: Procedure, state: State, says: str, ids: list[str]) -> Way:
    number = numbers(procedure, state)
    steps = sorted({*ids} & number.keys(), key=number.__getitem__)
    rows = tuple(WayStep(number[s], procedure.step_by_id[s].title, _does(procedure.step_by_id[s])) for s in steps)
    return Way(f"{says} ({count(len(rows), 'step')})", rows)


def _does(step: Step) -> str:
    """Return what a step does to the work, in one or two words; empty if it only asks or looks."""
    said = (
        ("makes safe", step.isolates),
        ("proves dead", step.proves_dead),
        ("feeds", step.feeds),
        ("hands on", step.hands_on),
        ("work", step.works),
        ("proof", step.proves),
    )
    return next((words for words, what in said if what), "")
