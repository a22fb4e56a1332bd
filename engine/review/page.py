"""The page: one log as one self-contained HTML file, without script and without any request, to read and to print."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from engine.finding import Verdict
from engine.plan.plan import Plan, make_plan, side_sentence
from engine.procedure.model import Procedure
from engine.review.audit import WORDS, Audit
from engine.review.circuit_sheet import allowed_drop_percent, drawn_parts, sheet_rows, volts_along
from engine.review.diagram import circuit_svg, volts_svg
from engine.review.pace import breaks_s, fast_entries, seconds_on_task
from engine.review.readings import ReadingRow, readings
from engine.review.row import LogRow, row_of
from engine.review.visible import visible
from engine.session.gates import applicable
from engine.session.judge import judge
from engine.session.state import FoundState, State
from engine.trade.ranges import OutOfRange

if TYPE_CHECKING:
    from jinja2 import Environment


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding on the page: word and sign, sentence, limits, sources, and how it was settled."""

    verdict: str
    sign: str
    sentence: str
    limits: tuple[str, ...]
    sources: tuple[str, ...]
    settled: str


@dataclass(frozen=True, slots=True)
class StepBlock:
    """A step on the page: its readings, then its findings."""

    number: int
    title: str
    hold: str
    opened: str
    done_at: str
    readings: tuple[ReadingRow, ...]
    findings: tuple[FindingRow, ...]


def page(audit: Audit) -> str:
    """Return the page of one log as HTML text; every text of the log stands in it as text and nothing else.

    Args:
        audit: The audited log.

    Returns:
        A whole HTML document: style inside, no script, no link outward.
    """
    return _environment().get_template("page.j2").render(_content(audit))


def index_page(rows: Iterable[tuple[LogRow, str]]) -> str:
    """Return the index of a folder of pages: each log's line with the name of its page."""
    return _environment().get_template("index.j2").render(rows=list(rows), words=WORDS)


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # local: only pages need the templates
    from markupsafe import Markup

    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: visible(value) if isinstance(value, str) and not isinstance(value, Markup) else value,
    )
    made.globals["drawing"] = Markup
    return made


def _content(audit: Audit) -> Mapping[str, Any]:
    row = row_of(audit)
    base = {"audit": audit, "row": row, "chain": WORDS.get(audit.chain, audit.chain), "told": _told(audit)}
    if audit.procedure is None or audit.replay is None:
        return base | {"walked": False}
    procedure, state = audit.procedure, audit.state
    plan = _plan(procedure, state)
    return base | {
        "walked": True,
        "procedure": procedure,
        "state": state,
        "replay": audit.replay,
        "missing": _missing(procedure, state),
        "not_taken": tuple(r for r in readings(audit) if r.state == "open"),
        "circuit": circuit_svg(drawn_parts(plan)) if plan else "",
        "volts": volts_svg(volts_along(plan.planned), allowed_drop_percent(plan.planned)) if plan else "",
        "found_says": side_sentence(plan.found, "as found") if plan and plan.found.parts else "",
        "planned_says": side_sentence(plan.planned, "as planned") if plan and plan.planned.parts else "",
        "remedy": plan.remedy if plan else "",
        "sheet": sheet_rows(procedure, state),
        "steps": _steps(audit, procedure, state),
        "accepted": tuple(f"{f.sentence}: {f.accepted}" for f in state.findings.values() if f.accepted),
        "label_texts": _label_texts(procedure, state),
        "fast": fast_entries(procedure, audit.events),
        "breaks": breaks_s(audit.events),
        "on_task_s": seconds_on_task(audit.events),
    }


def _told(audit: Audit) -> str:
    return audit.problem or audit.sentence


def _plan(procedure: Procedure, state: State) -> Plan | None:
    if not procedure.circuit:
        return None
    try:
        return make_plan(procedure, state.values(), state.profile or procedure.profile)
    except OutOfRange:
        return None


def _missing(procedure: Procedure, state: State) -> tuple[str, ...]:
    asks = {entry: asked.ask for entry in state.absent if (asked := procedure.entry_by_id.get(entry)) is not None}
    return tuple(f"{ask}: {state.absent[entry]}" for entry, ask in asks.items())


def _label_texts(procedure: Procedure, state: State) -> tuple[str, ...]:
    """Return the words that the job put on labels: entries in words whose id says label."""
    return tuple(
        given.taken.label
        for entry, given in state.given.items()
        if "label" in entry and entry in procedure.entry_by_id and given.taken.label
    )


def _steps(audit: Audit, procedure: Procedure, state: State) -> tuple[StepBlock, ...]:
    by_step: dict[str, list[ReadingRow]] = {}
    for reading in readings(audit):
        by_step.setdefault(reading.step, []).append(reading)
    opened = {hold.step: hold.by for hold in audit.holds}
    return tuple(
        StepBlock(
            number=number,
            title=step.title,
            hold=str(step.hold),
            opened=opened.get(step.id, ""),
            done_at=state.done[step.id].at if step.id in state.done else "",
            readings=tuple(by_step.get(step.id, ())),
            findings=_findings(procedure, state, step.id),
        )
        for number, step in enumerate(applicable(procedure, state), start=1)
    )


def _findings(procedure: Procedure, state: State, step: str) -> tuple[FindingRow, ...]:
    recorded = {key: found for (at, key), found in state.findings.items() if at == step}
    if not recorded:
        return ()
    now = judge(procedure, state, procedure.step_by_id[step])
    rows = [
        FindingRow(
            found.verdict,
            Verdict(found.verdict).sign,
            found.sentence,
            found.limits,
            tuple(str(source) for source in now[key].sources) if key in now else (),
            _settled(found),
        )
        for key, found in recorded.items()
    ]
    return tuple(sorted(rows, key=lambda r: -Verdict(r.verdict).severity))


def _settled(found: FoundState) -> str:
    if found.deviation:
        return f"deviation: {found.deviation}"
    return f"accepted: {found.accepted}" if found.accepted else ""
