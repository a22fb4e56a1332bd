"""The readings of a log as rows: raw text, value, unit, time, what each was held against, and what it replaced."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from engine.finding import Finding, Verdict
from engine.procedure.model import Entry, Procedure, Step
from engine.review.audit import Audit
from engine.review.sources import findings_at_end
from engine.session.events import Corrected
from engine.session.gates import applicable, entries
from engine.session.judge import keyed
from engine.session.said import shown
from engine.session.state import FoundState, State
from engine.source import Source


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One value of a log. ``number`` is in the base unit ``unit``.

    ``state`` is ``given``, ``absent``, ``open``, or ``computed`` for a figure that a finding worked out; ``unreadable``
    stands for a whole log. ``why`` has the reasons of corrections, one for each of ``replaced``.

    ``verdict`` is the worst of the findings that use the entry, ``limits`` what they held it against, ``findings``
    their keys, ``sources`` where those limits come from; ``replaced`` are the raw texts before a correction. ``digit``
    is one last typed digit in base units.
    """

    log: str
    step: str = ""
    entry: str = ""
    ask: str = ""
    state: str = ""
    person: str = ""
    asset: str = ""
    raw: str = ""
    shown: str = ""
    unit: str = ""
    number: float | None = None
    over: bool = False
    digit: float = 0.0
    known: str = ""
    instrument: str = ""
    at: str = ""
    event: int = 0
    reason: str = ""
    replaced: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    verdict: str = ""
    limits: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def readings(audit: Audit) -> tuple[ReadingRow, ...]:
    """Return every entry that the job asks for, in working order; none if the log could not be walked."""
    if audit.procedure is None or audit.replay is None:
        return ()
    judged = findings_at_end(audit)
    return tuple(
        _row(audit, step, entry, judged)
        for step in applicable(audit.procedure, audit.state)
        for entry in entries(audit.procedure, audit.state, step)
    )


def computed(audit: Audit) -> tuple[ReadingRow, ...]:
    """Return every figure that a finding worked out, step by step; their units are in their names."""
    return tuple(
        ReadingRow(
            audit.name, step, name, finding.sentence, "computed", number=float(value), unit="in its name",
            verdict=str(finding.verdict), findings=(f"{step}: {key}",), limits=tuple(map(str, finding.limits)),
            sources=tuple(map(str, finding.sources)),
        )
        for (step, key), finding in findings_at_end(audit).items()
        for name, value in finding.values.items()
        if isinstance(value, float | int) and not isinstance(value, bool) and isfinite(value)
    )  # fmt: skip


def _row(audit: Audit, step: Step, entry: Entry, judged: Mapping[tuple[str, str], Finding]) -> ReadingRow:
    assert audit.procedure is not None
    log, state, procedure = audit.name, audit.state, audit.procedure
    given = state.given.get(entry.id)
    if given is None:
        reason = state.absent.get(entry.id, "")
        return ReadingRow(log, step.id, entry.id, entry.ask, "absent" if reason else "open", reason=reason)
    keys = using(procedure, step, entry.id)
    found = [(k, f) for (at, k), f in state.findings.items() if at == step.id and k in keys]
    taken = given.taken
    return ReadingRow(
        log=log,
        step=step.id,
        entry=entry.id,
        ask=entry.ask,
        state="given",
        raw=taken.raw,
        shown=shown(entry, taken),
        unit=taken.unit,
        number=taken.number,
        over=taken.over,
        digit=taken.digit,
        known=taken.known,
        instrument=_instrument(state, entry),
        at=given.at,
        event=given.n,
        replaced=given.before,
        why=tuple(e.event.reason for e in audit.events if isinstance(e.event, Corrected) and e.event.entry == entry.id),
        verdict=_worst([f for _, f in found]),
        limits=tuple(dict.fromkeys(limit for _, f in found for limit in f.limits)),
        findings=tuple(f"{step.id}: {k}" for k, _ in found),
        sources=tuple(dict.fromkeys(str(s) for k, _ in found for s in _sources(judged.get((step.id, k))))),
    )


def using(procedure: Procedure, step: Step, entry: str) -> frozenset[str]:
    """Return the keys of the findings of ``step`` that depend on ``entry``."""
    checks = {key for key, check in keyed(step) if entry in procedure.of_check(check)}
    limits = {f"limit {n}" for n, limit in enumerate(step.limits, start=1) if entry in limit.expression.names}
    return frozenset(checks | limits)


def _sources(finding: Finding | None) -> tuple[Source, ...]:
    return finding.sources if finding is not None else ()


def _worst(found: list[FoundState]) -> str:
    return max((f.verdict for f in found), key=lambda v: Verdict(v).severity, default="")


def _instrument(state: State, entry: Entry) -> str:
    declared = state.instruments.get(entry.instrument)
    return declared.name if declared else entry.instrument
