"""Findings for the eye: word, sign, sentence, limits, the sum and its sources."""

from collections.abc import Mapping

from engine.finding import Finding, Verdict
from engine.procedure.model import Hold, Step
from engine.session.allowed import needed
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
        hands=finding.hands if finding.verdict is Verdict.FAIL else "",
    )


def step_verdicts(state: State, step: Step, findings: Mapping[str, Finding]) -> tuple[VerdictView, ...]:
    """Return the findings of a step, the worst first."""
    views = (
        verdict_view(key, finding, step.hold, state.findings.get((step.id, key))) for key, finding in findings.items()
    )
    return tuple(sorted(views, key=lambda v: -Verdict(v.verdict).severity))
