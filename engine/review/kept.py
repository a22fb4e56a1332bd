"""What is kept of an audited log between two looks: its line, its measured values, its files; as JSON and back."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from functools import cache
from typing import Any

from engine.review.audit import Audit, HoldLine
from engine.review.row import LogRow, row_of
from engine.review.values import Measured, measured

SCHEMA = 1
"""Version of what is kept; anything kept in another is audited anew."""


@dataclass(frozen=True, slots=True)
class Kept:
    """One audited log. ``heads_at`` is the whole head of its chain; ``files`` are names and digests."""

    row: LogRow
    values: tuple[Measured, ...]
    files: tuple[tuple[str, str], ...]
    whole_head: str


def keep(audit: Audit, sha256: str) -> Kept:
    """Return what is kept of an audit; ``sha256`` is the digest of the file's bytes."""
    files = tuple((name, digest) for name, digest, _ in audit.state.files)
    return Kept(row_of(audit, sha256), measured(audit), files, audit.whole_head)


def row_json(row: LogRow) -> str:
    """Return a line as JSON."""
    return json.dumps({f.name: getattr(row, f.name) for f in _ROW if f.name != "holds"} | {"holds": _holds(row)})


def row_from(text: str) -> LogRow:
    """Return the line that JSON says.

    Raises:
        ValueError, TypeError: if it says none.
    """
    read: dict[str, Any] = json.loads(text)
    holds = tuple(_hold(*hold) for hold in read.pop("holds"))
    return LogRow(**{**read, "holds": holds} | {name: tuple(read[name]) for name in ("bad_steps", "flagged")})


def values_json(values: tuple[Measured, ...]) -> str:
    """Return measured values as JSON."""
    return json.dumps([list(asdict(value).values()) for value in values])


def values_from(text: str) -> tuple[Measured, ...]:
    """Return the measured values that JSON says."""
    return tuple(Measured(*value) for value in json.loads(text))


def by_entry(values: tuple[Measured, ...]) -> Mapping[str, Measured]:
    """Return measured values by the id of their entry."""
    return {value.entry: value for value in values}


def _holds(row: LogRow) -> list[list[object]]:
    return [[hold.step, hold.title, hold.firm, hold.by] for hold in row.holds]


@cache
def _hold(step: str, title: str, firm: bool, by: str) -> HoldLine:
    return HoldLine(step, title, firm, by)


_ROW = fields(LogRow)
