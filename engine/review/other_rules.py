"""The verdicts of a log that another rule profile would change: the log's own stand, these are shown beside them."""

from dataclasses import dataclass, replace

from engine.finding import Finding
from engine.published.profiles import profile
from engine.review.audit import Audit
from engine.session.gates import applicable
from engine.session.judge import judge


@dataclass(frozen=True, slots=True)
class OtherVerdict:
    """One finding on the values that stand at the end: under the log's own rules, and under others."""

    step: str
    key: str
    own: str
    other: str

    def __str__(self) -> str:
        return f"{self.step}, {self.key}: {self.own}; under the other rules {self.other}"


def under_rules(audit: Audit, profile_name: str) -> tuple[OtherVerdict, ...]:
    """Return where the verdicts on a log would differ under another rule profile; disagreements only.

    Raises:
        UnknownProfile: if there is no such profile.
    """
    profile(profile_name)
    if audit.procedure is None or audit.replay is None:
        return ()
    other = replace(audit.state, profile=profile_name)
    changed = list[OtherVerdict]()
    for step in applicable(audit.procedure, audit.state):
        own, under = judge(audit.procedure, audit.state, step), judge(audit.procedure, other, step)
        changed += [
            OtherVerdict(step.id, key, _told(own, key), _told(under, key))
            for key in {**own, **under}
            if (own[key].verdict if key in own else None) != (under[key].verdict if key in under else None)
        ]
    return tuple(changed)


def _told(findings: dict[str, Finding], key: str) -> str:
    found = findings.get(key)
    return f"{found.verdict}, {found.sentence}" if found is not None else "no finding"
