"""One log for whoever reviews it: the step to look at first with its texts as typed, the report, every value."""

from collections.abc import Iterable

from engine.finding import Verdict
from engine.review.audit import Audit
from engine.review.readings import ReadingRow, readings
from engine.review.report import report_lines
from engine.session.attach import FileCheck

LogParts = tuple[tuple[str, tuple[str, ...]], ...]


def log_parts(audit: Audit, step: str = "", files: Iterable[FileCheck] = ()) -> LogParts:
    """Return a log in parts, each a title with its lines: first ``step`` if it is one of the log's, then the report.

    Args:
        audit: The audited log.
        step: The step to look at first.
        files: How its attached files stand.
    """
    rows = readings(audit)
    procedure = audit.procedure
    titles = {one.id: one.title for one in procedure.steps} if procedure else {}
    steps = dict.fromkeys(row.step for row in rows)
    first = [(f"Look here first: {titles[step]}", _step(audit, step, rows))] if step in titles else []
    report = ("The report", tuple(line.strip() for line in report_lines(audit, files)))
    return (*first, report, *((titles.get(one, one), _step(audit, one, rows)) for one in steps))


def without_names(parts: LogParts, audit: Audit) -> LogParts:
    """Return the parts without the names of people, boat and file."""
    names = sorted(
        {*audit.state.people, audit.state.person, audit.state.asset, audit.name} - {""}, key=len, reverse=True
    )

    def hidden(text: str) -> str:
        for name in names:
            text = text.replace(name, "(hidden)")
        return text

    return tuple((hidden(title), tuple(hidden(line) for line in lines)) for title, lines in parts)


def _step(audit: Audit, step: str, rows: tuple[ReadingRow, ...]) -> tuple[str, ...]:
    told = [_value(row) for row in rows if row.step == step]
    found = [f for (at, _), f in audit.state.findings.items() if at == step]
    worst_first = sorted(found, key=lambda f: -Verdict(f.verdict).severity)
    return (*(f"[{f.verdict.upper()}] {f.sentence}" for f in worst_first), *told)


def _value(row: ReadingRow) -> str:
    if row.state != "given":
        return f"{row.ask}: not measured: {row.reason}" if row.reason else f"{row.ask}: no value"
    meant = f" = {row.shown}" if row.shown != row.raw else ""
    before = f", before: {', then '.join(row.replaced)}" if row.replaced else ""
    return f'{row.ask}: typed "{row.raw}"{meant}{before}'
