"""Writes rows as CSV (RFC 4180, harmless in a spreadsheet) and as JSON lines (texts exactly as typed)."""

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from engine.review.columns import Cell, Column, Row


def as_csv(columns: Sequence[Column[Row]], rows: Iterable[Row]) -> Iterator[str]:
    """Return CSV, a header line first, one piece of text a row.

    Args:
        columns: What stands in the columns.
        rows: The rows, in order.

    Returns:
        Lines that end in CR LF. A text that a spreadsheet could take for a formula has an apostrophe before the sign
        that would start it; control characters are written out. JSON lines have the exact text.

    Source:
        RFC 4180 for the form.

    Example:
        >>> from engine.review.columns import Column
        >>> list(as_csv([Column("note", "", "", lambda r: r)], ["=1+1", "-3.5"]))
        ['note\\r\\n', "'=1+1\\r\\n", '-3.5\\r\\n']
    """
    yield _line([column.name for column in columns])
    for row in rows:
        yield _line([_cell(column.of(row)) for column in columns])


def as_jsonl(columns: Sequence[Column[Row]], rows: Iterable[Row]) -> Iterator[str]:
    """Return JSON lines, one object a row, the names of the columns as keys; ASCII only.

    Example:
        >>> from engine.review.columns import Column
        >>> list(as_jsonl([Column("volts", "V", "", lambda r: r)], [12.5, None]))
        ['{"volts": 12.5}\\n', '{"volts": null}\\n']
    """
    for row in rows:
        table = {column.name: column.of(row) for column in columns}
        yield json.dumps(table, ensure_ascii=True, allow_nan=False) + "\n"


def starts(columns: Sequence[Column[Any]], form: str) -> bytes:
    """Return what an export of these columns begins with, by which an earlier one is known."""
    first = [column.name for column in columns[:3]]
    return (f'{{"{first[0]}": "' if form == "jsonl" else ",".join(first)).encode()


def columns_text(columns: Sequence[Column[Any]]) -> list[str]:
    """Return one line a column: its name, its unit and what it says."""
    widest = max(len(column.name) for column in columns)
    return [f"{c.name:<{widest}}  {c.says}{f' [{c.unit}]' if c.unit else ''}" for c in columns]


def harmless(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula, however it parts the line.

    Example:
        >>> harmless("a;@SUM(A1)"), harmless("-12.6"), harmless("two lines: 1\\x1b[2J")
        ("a;'@SUM(A1)", '-12.6', 'two lines: 1\\\\x1b[2J')
    """
    plain = _CONTROL.sub(lambda sign: f"\\x{ord(sign[0]):02x}", text)
    return plain if _NUMBER.fullmatch(plain) else _FORMULA.sub(r"\1'", plain)


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return harmless(value) if isinstance(value, str) else f"{value!r}"


def _line(cells: list[str]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerow(cells)
    return text.getvalue()


_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
_NUMBER = re.compile(r"[+\-]?\d+(?:[.,]\d+)?")
_FORMULA = re.compile(r"((?:^|[;,|\t\r\n\"])[\s\ufeff]*)(?=[=+\-@\uff1d\uff0b\uff0d\uff20])")
"""A sign that starts a formula at the start of a text, or after anything that a spreadsheet may part cells at."""
