"""Lint: cuts before which nothing is measured."""

import re
from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.lint_evidence import is_evidence
from engine.procedure.load import Loaded
from engine.procedure.model import Step

CANNOT_BE_UNDONE = ("cut", "drill", "grind", "saw")
"""Verbs of which nothing can be put back (project rule, the trade's three and the saw)."""


def safety_faults(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every irreversible step without a gate."""
    for step in loaded.procedure.steps:
        if (verb := irreversible_verb(step)) and not _has_gate(loaded, step):
            yield (
                loaded.steps[step.id],
                f'"{verb}" cannot be undone and nothing is checked before it; needs a step that measures',
            )


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
