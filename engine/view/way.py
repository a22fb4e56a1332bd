"""The way that a command leads through, before it happens: steps done again, proofs made again, steps judged anew."""

from collections.abc import Iterable, Mapping

from engine.procedure.model import Procedure, Step
from engine.session import events as e
from engine.session.apply import after
from engine.session.outcome import Decided
from engine.session.standing import numbers
from engine.session.state import State
from engine.view.models import Way, WayStep
from engine.view.words import count


def ways(procedure: Procedure, state: State, decided: Decided) -> tuple[Way, ...]:
    """Return what has to be done again once ``decided`` is recorded, and which steps a corrected fact adds or drops.

    In working order; empty if nothing has to be done again.
    """
    here = numbers(procedure, state)
    then = numbers(procedure, after(state, decided.events))
    found: list[Way] = []
    for event in decided.events:
        if isinstance(event, e.Redone):
            found.append(_way(procedure, here, event.mend or "Done again, in this order", event.voided))
        elif isinstance(event, e.PersonChanged):
            found.append(_way(procedure, here, "Proved dead again, before hands go on", event.ended))
        elif isinstance(event, e.Corrected):
            found.append(_way(procedure, here, "No longer part of this job", here.keys() - then.keys()))
            found.append(_way(procedure, then, "New in this job", then.keys() - here.keys()))
        if isinstance(event, e.Redone | e.PersonChanged | e.Corrected | e.ProfileChosen):
            found.append(_way(procedure, then, "Judged anew, and only ended again", event.rejudged))
    return tuple(way for way in found if way.steps)


def _way(procedure: Procedure, number: Mapping[str, int], says: str, ids: Iterable[str]) -> Way:
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
