"""Whether a log was made under the procedure that its name says: a text with other limits proves something else."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from engine.procedure.faults import ProcedureFaults
from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.review.row import LogRow
from engine.shipped import shipped


def other_text(procedure: str, revision: str, sha256: str) -> str:
    """Return a sentence if a procedure's text is not the one shipped under its id and revision; else empty.

    Nothing is said of a procedure that is not shipped, or is shipped in another revision.
    """
    known = _shipped(procedure)
    if known is None or known[0] != revision or known[1] == sha256:
        return ""
    return f"its procedure is not the text that is shipped as {procedure}, revision {revision}"


def text_note(procedure: Procedure) -> str:
    """Return the same for a procedure that was read."""
    return other_text(procedure.id, procedure.revision, procedure.sha256)


def with_texts(rows: Sequence[LogRow]) -> tuple[LogRow, ...]:
    """Return the lines with a word where a procedure's text is not the shipped one, or not that of most others."""
    usual = _usual(rows)
    return tuple(replace(row, other_text=_told(row, usual)) if row.procedure else row for row in rows)


def _told(row: LogRow, usual: dict[tuple[str, str], str]) -> str:
    told = other_text(row.procedure, row.revision, row.procedure_sha256)
    most = usual.get((row.procedure, row.revision), row.procedure_sha256)
    if told or _shipped(row.procedure) is not None or most == row.procedure_sha256:
        return told
    return f"its procedure is not the text that most logs have as {row.procedure}, revision {row.revision}"


def _usual(rows: Sequence[LogRow]) -> dict[tuple[str, str], str]:
    """Return the text that more than half of the logs of a procedure have, by id and revision."""
    texts: dict[tuple[str, str], Counter[str]] = {}
    for row in rows:
        if row.procedure:
            texts.setdefault((row.procedure, row.revision), Counter())[row.procedure_sha256] += 1
    most = {which: counted.most_common(1)[0] for which, counted in texts.items()}
    return {which: text for which, (text, count) in most.items() if 2 * count > texts[which].total()}


@cache
def _shipped(procedure: str) -> tuple[str, str] | None:
    """Return revision and digest of a shipped procedure; None if it is not shipped. A log's word is never a path."""
    file = next((path for path in shipped() if path.stem == procedure), None)
    try:
        known = load(file) if file is not None else None
    except (ProcedureFaults, OSError, ValueError):
        known = None
    if known is None:
        return None
    return known.revision, known.sha256
