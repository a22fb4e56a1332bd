"""Where each limit of a log comes from: the findings judged once more on the end state, for their sources and sums."""

from collections.abc import Mapping

from engine.finding import Finding
from engine.review.audit import Audit
from engine.session.judge import judge


def findings_at_end(audit: Audit) -> Mapping[tuple[str, str], Finding]:
    """Return the findings of every step that was judged, by step and key, with sources and working.

    They are judged on the values that stand at the end; the verdicts that the person saw are in ``audit.state``.
    """
    if audit.procedure is None or audit.replay is None:
        return {}
    steps = dict.fromkeys(step for step, _ in audit.state.findings)
    known = audit.procedure.step_by_id
    return {
        (step, key): finding
        for step in steps
        if step in known
        for key, finding in judge(audit.procedure, audit.state, known[step]).items()
        if (step, key) in audit.state.findings
    }
