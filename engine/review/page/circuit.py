"""The circuit of a log for the page: parts with figures and findings, the weakest, the remedy, the volts along it."""

from dataclasses import dataclass

from engine.finding import Finding, Verdict
from engine.plan.plan import Plan, make_plan, side_sentence, weakest_words
from engine.plan.told import VoltsAfter, figures, most_drop_v, volts_along
from engine.review.audit import Audit
from engine.session.standing import standing


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part of the circuit: its number on the drawing, figures as found and as planned, verdicts and findings."""

    number: int
    kind: str
    name: str
    found: str
    found_verdict: str
    planned: str
    verdict: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class CircuitLines:
    """The circuit as the page shows it. ``allowed_v`` is the largest drop that passes, ``nominal_v`` the bank's [V]."""

    parts: tuple[PartLine, ...]
    found: str
    found_verdict: str
    planned: str
    verdict: str
    weakest: str
    remedy: str
    volts: tuple[VoltsAfter, ...]
    nominal_v: float
    allowed_v: float | None


def circuit_lines(audit: Audit) -> CircuitLines | None:
    """Return the circuit of a log as its last values give it; None if there is none, or too little is known."""
    if audit.procedure is None or not audit.procedure.circuit or not audit.state.given:
        return None
    values = standing(audit.procedure, audit.state)
    plan = make_plan(audit.procedure, values, audit.state.profile or audit.procedure.profile)
    if plan.planned.weakest is None:
        return None
    nominal = plan.planned.circuit.shared("nominal")
    nominal_v = float(nominal) if isinstance(nominal, int | float) else 0.0
    return CircuitLines(
        parts=_parts(plan),
        found=side_sentence(plan.found, "as found"),
        found_verdict=str(plan.found.verdict),
        planned=side_sentence(plan.planned, "as planned"),
        verdict=str(plan.planned.verdict),
        weakest=weakest_words(plan.planned.weakest),
        remedy=plan.remedy,
        volts=volts_along(plan.planned),
        nominal_v=nominal_v,
        allowed_v=most_drop_v(plan.planned),
    )


def _parts(plan: Plan) -> tuple[PartLine, ...]:
    return tuple(
        PartLine(
            number=number,
            kind=str(now.part.kind),
            name=now.part.name,
            found=figures(old.part),
            found_verdict=str(old.verdict) if old.findings else "",
            planned=figures(now.part),
            verdict=str(now.verdict) if now.findings else "",
            findings=now.findings,
        )
        for number, (old, now) in enumerate(zip(plan.found.parts, plan.planned.parts, strict=True), start=1)
    )


def sign(verdict: str) -> str:
    """Return a verdict as word and sign, empty for none: ``fail x``."""
    return f"{verdict} {Verdict(verdict).sign}" if verdict else ""
