"""What an export has in its columns: names, units and meaning; one list for a row a log, one for a row a reading."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from engine.review.marks import fits
from engine.review.readings import ReadingRow
from engine.review.row import LogRow

Cell = str | int | float | bool | None
Row = TypeVar("Row")


@dataclass(frozen=True)
class Column(Generic[Row]):
    """One column: its name, the unit of its figures (empty for none), and what it says."""

    name: str
    unit: str
    says: str
    of: Callable[[Row], Cell]


def _like(row: LogRow) -> str:
    return row.like.sentence if row.like else ""


LOG_COLUMNS: tuple[Column[LogRow], ...] = (
    Column("log", "", "name of the file", lambda r: r.name),
    Column("chain", "", "whole, torn, altered, edited, newer or not a log", lambda r: r.chain),
    Column("head", "", "head of the chain, short", lambda r: r.head),
    Column("sha256", "", "digest of the file", lambda r: r.sha256),
    Column("person", "", "who did the job, the last one if handed over", lambda r: r.person),
    Column("asset", "", "boat or trailer", lambda r: r.asset),
    Column("procedure", "", "id of the procedure", lambda r: r.procedure),
    Column("revision", "", "revision of the procedure", lambda r: r.revision),
    Column("profile", "", "rule profile and its version", lambda r: r.profile),
    Column("demo", "", "a job on invented facts", lambda r: r.demo),
    Column("began", "ISO 8601, UTC", "when the log was begun", lambda r: r.began),
    Column("last_at", "ISO 8601, UTC", "when the last entry was made", lambda r: r.last_at),
    Column("ended_at", "ISO 8601, UTC", "when the job was closed or stopped", lambda r: r.ended_at),
    Column("ended", "", "closed, stopped or open", lambda r: r.ended),
    Column("stopped", "", "why it was stopped", lambda r: r.stopped),
    Column("complete", "", "closed with every step done", lambda r: r.complete),
    Column("clean", "", "closed without deviation and with nothing missing on a hold", lambda r: r.clean),
    Column("events", "count", "events in the log", lambda r: r.events),
    Column("holds", "count", "hold points of the job", lambda r: len(r.holds)),
    Column("holds_opened", "count", "hold points opened on evidence", lambda r: r.holds_opened),
    Column("asked", "count", "values that the job asks for", lambda r: r.asked),
    Column("given", "count", "values that were given", lambda r: r.given),
    Column("missing", "count", "values said to be not measured", lambda r: r.missing),
    Column("fails", "count", "findings that fail", lambda r: r.fails),
    Column("undecided", "count", "findings that are undecided", lambda r: r.undecided),
    Column("marginals", "count", "findings that are marginal", lambda r: r.marginals),
    Column("reasoned", "count", "findings accepted with a reason", lambda r: r.reasoned),
    Column("deviations", "count", "deviations", lambda r: r.deviations),
    Column("differs", "count", "readings and verdicts that come out otherwise", lambda r: r.differs),
    Column("order", "count", "steps and consequences that could not be", lambda r: r.order),
    Column("corrections", "count", "entries that were corrected", lambda r: r.corrections),
    Column("redone", "count", "steps that were done again", lambda r: r.redone),
    Column("on_task", "s", "time from the first entry to the end, breaks taken off", lambda r: round(r.on_task_s, 1)),
    Column("breaks", "count", "breaks of ten minutes or more", lambda r: r.breaks),
    Column("break_time", "s", "length of the breaks", lambda r: round(r.breaks_s, 1)),
    Column("doubts", "count", "what the log says of itself that wants a question", lambda r: len(r.doubts)),
    Column("to_ask", "", "the same in words", lambda r: "; ".join(r.doubts)),
    Column("clock_notes", "count", "times the clock was set back or ahead", lambda r: r.clock_notes),
    Column("left_to_do", "count", "things left to do", lambda r: r.left_to_do),
    Column("due_open", "count", "dated looks still to be made", lambda r: r.due_open),
    Column("likeness", "", "another log that is equal beyond chance", lambda r: r.like.other if r.like else ""),
    Column("like_in_words", "", "the same with counts and what could explain it", _like),
    Column("together", "", "both were likely measured together", lambda r: r.like is not None and r.like.together),
    Column("goes_on", "", "the log in which the same session goes on", lambda r: r.goes_on),
    Column("mark", "points", "mark that the instructor gave", lambda r: r.marking.mark if r.marking else None),
    Column(
        "accepted", "", "the instructor accepted it as clean", lambda r: r.marking is not None and r.marking.accepted
    ),
    Column("note", "", "what the instructor said of it", lambda r: r.marking.note if r.marking else ""),
    Column("marked_by", "", "who gave the mark", lambda r: r.marking.by if r.marking else ""),
    Column("marked_at", "ISO 8601, UTC", "when it was given", lambda r: r.marking.at if r.marking else ""),
    Column(
        "mark_fits", "", "no if the log has changed since", lambda r: fits(r.marking, r.head) if r.marking else None
    ),
    Column("proposed", "points", "mark that the rubric proposes", lambda r: r.proposed),
    Column("other_text", "", "what is wrong with the procedure's text", lambda r: r.other_text),
    Column("rebuilt", "", "why it is not the log that was looked at before", lambda r: r.rebuilt),
    Column("earlier", "", "that it is an earlier copy of the one before", lambda r: r.earlier),
    Column("files_wrong", "count", "attached files that are missing or changed", lambda r: r.files_wrong),
    Column("first_bad", "", "what to look at first", lambda r: r.first_bad),
)
"""One row a log."""

READING_COLUMNS: tuple[Column[ReadingRow], ...] = (
    Column("log", "", "name of the file", lambda r: r.log),
    Column("step", "", "id of the step", lambda r: r.step),
    Column("entry", "", "id of the value, or name of the computed figure with its unit", lambda r: r.entry),
    Column("person", "", "who did the job, the last one if handed over", lambda r: r.person),
    Column("asset", "", "boat or trailer", lambda r: r.asset),
    Column("ask", "", "what was asked for, or what the finding says", lambda r: r.ask),
    Column("state", "", "given, absent (not measured), open, computed; unreadable: the whole log", lambda r: r.state),
    Column("raw", "", "the text as typed", lambda r: r.raw),
    Column("value", "as in unit", "the number in the base unit; empty for words", lambda r: r.number),
    Column("unit", "", "base unit of value and digit", lambda r: r.unit),
    Column("digit", "as in unit", "one last typed digit", lambda r: r.digit or None),
    Column("over_range", "", "the instrument showed more than it can", lambda r: r.over),
    Column("shown", "", "the value in words, in both systems", lambda r: r.shown),
    Column("known", "", "measured, read from label, seen, or told by owner", lambda r: r.known),
    Column("instrument", "", "kind or name of the instrument", lambda r: r.instrument),
    Column("at", "ISO 8601, UTC", "when it was entered", lambda r: r.at),
    Column("event", "count", "number of its event in the log", lambda r: r.event or None),
    Column("verdict", "", "worst finding that uses it", lambda r: r.verdict),
    Column("limits", "as written", "what it was held against", lambda r: "; ".join(r.limits)),
    Column("findings", "", "step and key of the findings that use it", lambda r: "; ".join(r.findings)),
    Column("sources", "", "where the limits come from", lambda r: "; ".join(r.sources)),
    Column("replaced", "", "texts before a correction, the oldest first", lambda r: "; ".join(r.replaced)),
    Column("why", "", "reasons of the corrections, the oldest first", lambda r: "; ".join(r.why)),
    Column("reason", "", "why it was not measured, or the log cannot be read", lambda r: r.reason),
)
"""One row a reading."""
