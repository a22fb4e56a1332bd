"""Lint: cuts without a gate, and warnings that come after what they warn of."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from engine.procedure.faults import Place
from engine.procedure.lint_evidence import is_evidence
from engine.procedure.load import Loaded
from engine.procedure.model import Step, Warn

CANNOT_BE_UNDONE = ("cut", "drill", "grind", "saw")
"""Verbs of which nothing can be put back (project rule, the trade's three and the saw)."""


class Irreversible(NamedTuple):
    """A step that cannot be undone, and its verb."""

    step: Step
    verb: str


def safety_faults(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every irreversible step without a gate, and every warning bound after its step."""
    cuts = [Irreversible(step, verb) for step in loaded.procedure.steps if (verb := irreversible_verb(step))]
    for cut in cuts:
        if not _has_gate(loaded, cut.step):
            place = loaded.steps[cut.step.id]
            yield (
                place,
                f'"{cut.verb}" cannot be undone and nothing is checked before it; needs a step that measures',
            )
    yield from _late_warnings(loaded, cuts)


def irreversible_verb(step: Step) -> str:
    """Return the verb of a step that cannot be undone: as declared, or the first word of its action."""
    if step.irreversible:
        return step.irreversible
    first = re.match(r"[A-Za-z]+", step.action)
    word = first[0].lower() if first else ""
    return word if word in CANNOT_BE_UNDONE else ""


def _has_gate(loaded: Loaded, step: Step) -> bool:
    """Return whether a step that measures must be done before this one, at however many removes."""
    todo, seen = list(loaded.procedure.needs[step.id]), {step.id}
    while todo:
        need = todo.pop()
        before = loaded.procedure.step_by_id.get(need)
        if before is None or need in seen:
            continue
        if is_evidence(before):
            return True
        seen.add(need)
        todo += loaded.procedure.needs[before.id]
    return False


def _late_warnings(loaded: Loaded, cuts: list[Irreversible]) -> Iterator[tuple[Place, str]]:
    """Give warnings that speak of a cut which an earlier step makes, without a warning of its own."""
    number_of = {step.id: number for number, step in enumerate(loaded.procedure.steps)}
    silent = [cut for cut in cuts if not cut.step.warnings]
    for step in loaded.procedure.steps:
        if irreversible_verb(step):
            continue
        for number, warning in enumerate(step.warnings):
            for cut in silent:
                if number_of[cut.step.id] < number_of[step.id] and _speaks_of(warning, cut.verb):
                    yield (
                        loaded.steps[step.id].key("warn").item(number, f"warn {number + 1}"),
                        f'warns of "{cut.verb}" after step "{cut.step.id}" has done it; bind it to that step',
                    )


def _speaks_of(warning: Warn, verb: str) -> bool:
    text = f"{warning.hazard} {warning.avoid}".lower()
    return re.search(rf"\b{re.escape(verb.lower())}(s|ting|ling|ding|ing)?\b", text) is not None
