"""``tugtest export``: logs as CSV or JSON lines, a row a log or a row a reading."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "export",
        "logs as CSV or JSON lines",
        "tugtest export sample_sessions --rows readings -o readings.csv",
    )
    parser.add_argument("where", nargs="?", type=Path, metavar="LOG", help="a session log, or a folder of them")
    parser.add_argument("--rows", choices=("logs", "readings"), default="logs", help="a row a log, or a row a reading")
    parser.add_argument("--form", choices=("csv", "jsonl"), default="", help="else by the file's ending, else CSV")
    parser.add_argument("-o", "--output", type=Path, metavar="FILE", help="where to write it, else to the screen")
    parser.add_argument("--columns", action="store_true", help="say what stands in each column, with its unit")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the rows; status 0, 2 if a log cannot be trusted (its row says so)."""
    from engine.review.columns import LOG_COLUMNS, READING_COLUMNS
    from engine.review.export import as_csv, as_jsonl, columns_text

    columns: Any = LOG_COLUMNS if args.rows == "logs" else READING_COLUMNS
    if args.columns:
        print("\n".join(columns_text(columns)))
        return 0
    if args.where is None:
        raise common.NotUsable("which log? name one, or a folder; --columns says what the columns are")
    rows = _Rows(args.where, args.rows)
    lines = (as_jsonl if _form(args) == "jsonl" else as_csv)(columns, rows.rows())
    if args.output is None:
        sys.stdout.writelines(line.replace("\r\n", "\n") for line in lines)
    else:
        with args.output.open("w", encoding="utf-8", newline="") as file:
            file.writelines(lines)
        print(args.output)
    return rows.status


class _Rows:
    """The rows, one log after the other, and what the worst of them says."""

    def __init__(self, where: Path, kind: str) -> None:
        from engine.review.folder import logs_in

        self.status = 0
        self._kind = kind
        self._logs = logs_in(where) if where.is_dir() else [where]

    def rows(self) -> Iterator[object]:
        from hashlib import sha256

        from engine.review.audit import audit_file
        from engine.review.readings import readings
        from engine.review.row import row_of

        for log in self._logs:
            audit = audit_file(log)
            self.status = max(self.status, 0 if audit.trusted else 2)
            if self._kind == "readings":
                yield from readings(audit)
            else:
                yield row_of(audit, sha256(log.read_bytes()).hexdigest() if log.is_file() else "")


def _form(args: argparse.Namespace) -> str:
    if args.form:
        return str(args.form)
    return "jsonl" if args.output is not None and args.output.suffix in (".jsonl", ".ndjson", ".json") else "csv"
