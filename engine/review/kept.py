"""What is kept of an audited log between two looks: its line, its measured values, its files; as JSON and back."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import cache
from operator import attrgetter
from typing import Any, NamedTuple

from engine.review.audit import Audit, HoldLine
from engine.review.row import LogRow, row_of
from engine.review.values import Measured, measured

HEAD_DIGITS = 16
"""Digits of each head that are kept [count]; a project rule: 64 bits, nobody finds another log with the same."""


@dataclass(frozen=True, slots=True)
class Kept:
    """One audited log. ``whole_head`` is the head of its chain; ``files`` are names and digests."""

    row: LogRow
    values: tuple[Measured, ...]
    files: tuple[tuple[str, str], ...]
    whole_head: str


class Packed(NamedTuple):
    """One audited log as texts: what a worker sends, and what the index keeps.

    ``doubted`` is True if it is not the log that was seen before, or less of it: such a one is not remembered.
    """

    sha256: str
    head: str
    events: int
    doubted: bool
    row: str
    values: str
    files: str
    heads: str = ""


def keep(audit: Audit, sha256: str) -> Kept:
    """Return what is kept of an audit; ``sha256`` is the digest of the file's bytes."""
    files = tuple((name, digest) for name, digest, _ in audit.state.files)
    return Kept(row_of(audit, sha256), measured(audit), files, audit.whole_head)


def short_heads(heads: Sequence[str]) -> str:
    """Return the heads of a chain, each cut to ``HEAD_DIGITS``: enough to know an earlier copy by."""
    return "".join(head[:HEAD_DIGITS] for head in heads)


def pack(kept: Kept, heads: Sequence[str] = ()) -> Packed:
    """Return what is kept as texts; ``heads`` are those of its chain."""
    row = kept.row
    texts = (row_json(row), values_json(kept.values), json.dumps(kept.files) if kept.files else "[]")
    doubted = bool(row.rebuilt or row.earlier)
    return Packed(row.sha256, kept.whole_head, row.events, doubted, *texts, short_heads(heads))


def row_json(row: LogRow) -> str:
    """Return a line as JSON: the values of its fields, in their order."""
    values = list(_GET(row))
    values[_HOLDS] = [[hold.step, hold.title, hold.firm, hold.by] for hold in row.holds]
    return json.dumps(values)


def row_from(text: str, name: str = "") -> LogRow:
    """Return the line that JSON says, under the name that its file has now.

    Raises:
        ValueError, TypeError: if it says none.
    """
    read: dict[str, Any] = dict(zip(_NAMES, json.loads(text), strict=True))
    read["holds"] = tuple([_hold(*hold) for hold in read["holds"]])
    for listed in ("bad_steps", "flagged", "doubts"):
        read[listed] = tuple(read[listed])
    if name:
        read["name"] = name
    return LogRow(**read)


def values_json(values: tuple[Measured, ...]) -> str:
    """Return measured values as JSON."""
    return json.dumps([[v.entry, v.number, v.digit, v.unit, v.at] for v in values])


def values_from(text: str) -> tuple[Measured, ...]:
    """Return the measured values that JSON says."""
    return tuple(Measured(*value) for value in json.loads(text))


def files_from(text: str) -> tuple[tuple[str, str], ...]:
    """Return the names and digests of files that JSON says."""
    return () if text == "[]" else tuple((str(name), str(digest)) for name, digest in json.loads(text))


@cache
def _hold(step: str, title: str, firm: bool, by: str) -> HoldLine:
    return HoldLine(step, title, firm, by)


_NAMES = tuple(each.name for each in fields(LogRow))
_HOLDS = _NAMES.index("holds")
_GET = attrgetter(*_NAMES)
