"""Whether a log was made under the procedure that its name says: a text with other limits proves something else."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from engine.procedure.faults import ProcedureFaults
from engine.procedure.load import fingerprint
from engine.procedure.model import Procedure
from engine.review.index import Index
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


def with_texts(rows: Sequence[LogRow], index: Index | None = None) -> tuple[LogRow, ...]:
    """Return the lines with a word where a procedure's text is not the shipped one, or not that of most others.

    ``index`` remembers the digests of what is shipped between two reviews.
    """
    for procedure in {row.procedure for row in rows}:
        _shipped(procedure, index)
    usual = _usual(rows)
    told = ((row, _told(row, usual) if row.procedure else "") for row in rows)
    return tuple(replace(row, other_text=words) if words != row.other_text else row for row, words in told)


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


def _shipped(procedure: str, index: Index | None = None) -> tuple[str, str] | None:
    """Return revision and digest of a shipped procedure; None if it is not shipped. A log's word is never a path."""
    if procedure not in _KNOWN:
        file = next((path for path in shipped() if path.stem == procedure), None)
        _KNOWN[procedure] = _fingerprint(file, index) if file is not None else None
    return _KNOWN[procedure]


def _fingerprint(file: Path, index: Index | None) -> tuple[str, str] | None:
    """Return the fingerprint of a file; an index remembers it by the bytes that it is made of."""
    try:
        made_of = sha256(b"".join(each.read_bytes() for each in (file, *sorted(file.parent.glob("blocks/*.toml")))))
        asked = f"{file.name} {made_of.hexdigest()}"
        revision, _, digest = index.note(asked).rpartition(" ") if index is not None else ("", "", "")
        if not digest:
            revision, digest = fingerprint(file)
            if index is not None:
                index.take_note(asked, f"{revision} {digest}")
    except (ProcedureFaults, OSError, ValueError, LookupError):
        return None
    return revision, digest


_KNOWN: dict[str, tuple[str, str] | None] = {}
