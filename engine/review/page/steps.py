"""The steps of a log for the page: what was read, what was found, how a hold was opened, where limits come from."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Finding
from engine.procedure.model import Hold, Procedure, Step
from engine.published.instruments import instrument, instrument_ids
from engine.review.audit import Audit
from engine.review.page.sources import SourceList
from engine.review.readings import ReadingRow, readings
from engine.review.sources import findings_at_end
from engine.session.gates import applicable
from engine.session.state import DoneStep, FoundState


@dataclass(frozen=True, slots=True)
class ReadLine:
    """One value: what was asked, as typed, in words, how it is known, with what, when, and the worst finding on it."""

    ask: str
    raw: str
    shown: str
    how: str
    at: str
    verdict: str
    replaced: str
    state: str


@dataclass(frozen=True, slots=True)
class FoundLine:
    """One finding as the person saw it, with its limits, how it was settled, and the numbers of its sources."""

    name: str
    verdict: str
    sentence: str
    limits: str
    settled: str
    sources: tuple[int, ...]
    working: str


@dataclass(frozen=True, slots=True)
class StepLines:
    """One step: its title, when it was ended, how its hold was opened, its values and findings."""

    id: str
    title: str
    hold: str
    done: str
    values: tuple[ReadLine, ...]
    found: tuple[FoundLine, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SectionLines:
    """One section of the work with its steps."""

    title: str
    steps: tuple[StepLines, ...]


def section_lines(audit: Audit, sources: SourceList) -> tuple[SectionLines, ...]:
    """Return the sections of a log that have steps; ``sources`` collects where limits come from."""
    if audit.procedure is None or audit.replay is None:
        return ()
    rows: dict[str, list[ReadingRow]] = {}
    for row in readings(audit):
        rows.setdefault(row.step, []).append(row)
    judged, opened = findings_at_end(audit), {hold.step: hold.by for hold in audit.holds}
    steps = applicable(audit.procedure, audit.state)
    told = {step.id: _step(audit, step, rows.get(step.id, []), judged, opened, sources) for step in steps}
    return tuple(
        SectionLines(section.title, tuple(told[step.id] for step in steps if step.section == section.id))
        for section in audit.procedure.sections
        if any(step.section == section.id for step in steps)
    )


def _step(
    audit: Audit,
    step: Step,
    rows: list[ReadingRow],
    judged: Mapping[tuple[str, str], Finding],
    opened: Mapping[str, str],
    sources: SourceList,
) -> StepLines:
    state = audit.state
    done = state.done.get(step.id)
    return StepLines(
        id=step.id,
        title=step.title,
        hold=_hold(step, opened.get(step.id, "")),
        done=_done(done),
        values=tuple(_value(row) for row in rows),
        found=tuple(
            _found(key, found, judged.get((at, key)), sources)
            for (at, key), found in state.findings.items()
            if at == step.id
        ),
        notes=tuple(text for at, text, _ in state.notes if at == step.id),
    )


def _done(done: DoneStep | None) -> str:
    return clock(done.at) if done else ""


def _hold(step: Step, by: str) -> str:
    if step.hold is Hold.NONE:
        return ""
    kind = "firm hold" if step.hold is Hold.FIRM else "hold"
    return f"{kind}: opened on evidence" if by == "evidence" else f"{kind}: {f'passed by {by}' if by else 'not opened'}"


def _value(row: ReadingRow) -> ReadLine:
    with_it = f", {instrument_words(row.instrument)}" if row.instrument else ""
    return ReadLine(
        ask=row.ask,
        raw=row.raw,
        shown=row.shown if row.state == "given" else f"not measured: {row.reason}" if row.reason else "not given",
        how=f"{row.known}{with_it}" if row.state == "given" else "",
        at=clock(row.at),
        verdict=row.verdict or ("missing" if row.state == "absent" else ""),
        replaced=", then ".join(row.replaced),
        state=row.state,
    )


def _found(key: str, found: FoundState, judged: Finding | None, sources: SourceList) -> FoundLine:
    settled = f"deviation: {found.deviation}" if found.deviation else ""
    return FoundLine(
        name="" if key.startswith("limit ") else key.replace("-", " "),
        verdict=found.verdict,
        sentence=found.sentence,
        limits="; ".join(found.limits),
        settled=settled or (f"accepted: {found.accepted}" if found.accepted else ""),
        sources=sources.refer(judged.sources) if judged is not None else (),
        working=judged.working if judged is not None and judged.check != "limit" else "",
    )


def instrument_words(name: str) -> str:
    """Return an instrument's kind in words; a declared one has its own name.

    Example:
        >>> instrument_words("clamp")
        'DC clamp meter'
    """
    return instrument(name).kind if name in instrument_ids() else name


def clock(at: str) -> str:
    """Return a time to the minute: ``2026-05-02 08:49``; empty for none.

    Example:
        >>> clock("2026-05-02T08:49:40+00:00")
        '2026-05-02 08:49'
    """
    return at[:16].replace("T", " ")


def title_of(procedure: Procedure, step: str) -> str:
    """Return the title of a step; its id if the procedure has none such."""
    found = procedure.step_by_id.get(step)
    return found.title if found is not None else step
