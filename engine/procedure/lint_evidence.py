"""Lint: hold points that end on nothing, or on a figure that nobody has looked up."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Hold, Step


def evidence_faults(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every hold without evidence, and every firm hold whose limit is from memory."""
    for step in loaded.procedure.steps:
        if step.hold is not Hold.NONE and not is_evidence(step):
            yield (
                loaded.steps[step.id].key("hold"),
                "a hold ends on evidence; give it a reading, a check, a limit or parts",
            )
        for place, limit in zip(loaded.limits[step.id], step.limits, strict=True):
            if step.hold is Hold.FIRM and limit.source.unconfirmed:
                yield place, "a firm hold cannot rest on a figure from memory; look it up, or use hold"


def is_evidence(step: Step) -> bool:
    """Return whether a step leaves something that can be judged."""
    return bool(step.readings or step.checks or step.limits or step.parts)
