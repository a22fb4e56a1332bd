"""Findings as events: recorded when they are new or changed, with the verdict, limit and figures the person saw."""

from collections.abc import Mapping

from engine.finding import Finding, Value
from engine.procedure.model import Hold, Step
from engine.session.events import Event, Found
from engine.session.state import State


def found_events(state: State, step: Step, findings: Mapping[str, Finding]) -> tuple[Event, ...]:
    """Return a ``Found`` for each finding that is not recorded yet with this verdict and sentence."""
    return tuple(
        as_event(step, key, finding)
        for key, finding in findings.items()
        if not is_recorded(state, step.id, key, finding)
    )


def is_recorded(state: State, step: str, key: str, finding: Finding) -> bool:
    """Return whether the same finding already stands in the log."""
    known = state.findings.get((step, key))
    return known is not None and known.verdict == finding.verdict and known.sentence == finding.sentence


def as_event(step: Step, key: str, finding: Finding) -> Found:
    """Return the finding as the event that keeps it; on a firm hold it is firm."""
    return Found(
        step=step.id,
        key=key,
        check=finding.check,
        verdict=str(finding.verdict),
        sentence=finding.sentence,
        values=[f"{name} = {_text(value)}" for name, value in finding.values.items()],
        limits=[str(limit) for limit in finding.limits],
        profile=finding.profile,
        firm=finding.firm or step.hold is Hold.FIRM,
        remedy=finding.remedy,
    )


def _text(value: Value) -> str:
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, tuple):
        return "; ".join(_text(item) for item in value)
    return "yes" if value is True else "no" if value is False else str(value)
