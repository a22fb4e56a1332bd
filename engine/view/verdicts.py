"""Findings for the eye: word, sign, sentence, limits, the sum and its sources."""

from collections.abc import Mapping
from dataclasses import replace

from engine.finding import Finding, Verdict
from engine.procedure.model import Hold, Step
from engine.procedure.model_circuit import Reference
from engine.session.allowed import needed
from engine.session.judge import keyed
from engine.session.state import FoundState, State
from engine.view.models import VerdictView


def label(verdict: Verdict | str) -> str:
    """Return word and sign of a verdict: ``[FAIL x]``. The word alone carries the meaning."""
    known = Verdict(verdict)
    return f"[{known.value.upper()} {known.sign}]"


def verdict_view(key: str, finding: Finding, hold: Hold = Hold.NONE, known: FoundState | None = None) -> VerdictView:
    """Return a finding as every face shows it."""
    same = known is not None and (known.verdict, known.sentence) == (str(finding.verdict), finding.sentence)
    settled = (known.deviation or known.accepted) if known is not None and same else ""
    how = "deviation" if known is not None and same and known.deviation else "accepted"
    return VerdictView(
        key=key,
        check=finding.check,
        verdict=str(finding.verdict),
        label=label(finding.verdict),
        sentence=finding.sentence,
        limits=tuple(str(limit) for limit in finding.limits),
        working=finding.working,
        sources=tuple(str(source) for source in finding.sources),
        remedy=finding.remedy,
        settled=f"{how}: {settled}" if settled else "",
        needs="" if settled else needed(finding.verdict, hold, firm=finding.firm),
    )


def step_verdicts(state: State, step: Step, findings: Mapping[str, Finding]) -> tuple[VerdictView, ...]:
    """Return the findings of a step, the worst first."""
    several = _asks_of_several(step)
    views = []
    for key, finding in findings.items():
        view = verdict_view(key, finding, step.hold, state.findings.get((step.id, key)))
        open_and_doubled = key in several and finding.verdict is not Verdict.PASS
        views.append(replace(view, sentence=f"{several[key]}: {view.sentence}") if open_and_doubled else view)
    return tuple(sorted(views, key=lambda v: -Verdict(v.verdict).severity))


def _asks_of_several(step: Step) -> dict[str, str]:
    """Return what a check's own reading is called, by key, where the step has several checks of that name."""
    names = [check.name for check in step.checks]
    asks = {reading.id: reading.ask for reading in step.readings}
    found = {}
    for key, check in keyed(step):
        own = (i for o in check.inputs.values() if isinstance(o, Reference) for i in o.ids if i in asks)
        first = next(own, None)
        if names.count(check.name) > 1 and first is not None:
            found[key] = asks[first]
    return found
