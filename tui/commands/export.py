"""``tugtest export``: logs as CSV or JSON lines, a row a log or a row a reading."""

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.commands import common

if TYPE_CHECKING:
    from engine.review.audit import Audit


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "export",
        "logs as CSV or JSON lines",
        "tugtest export grey-heron-clean --rows readings -o readings.csv",
    )
    parser.add_argument("where", nargs="?", type=Path, metavar="LOG", help="a session log, or a folder of them")
    parser.add_argument("--rows", choices=("logs", "readings"), default="logs", help="a row a log, or a row a reading")
    parser.add_argument("--form", choices=("csv", "jsonl"), default="", help="else by the file's ending, else CSV")
    parser.add_argument("-o", "--output", type=Path, metavar="FILE", help="where to write it, else to the screen")
    parser.add_argument(
        "--rubric", type=Path, metavar="FILE.toml", help="how marks are proposed (else the shipped one)"
    )
    parser.add_argument("--anonymous", action="store_true", help="hide persons, files and boats")
    parser.add_argument("--columns", action="store_true", help="say what stands in each column, with its unit")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the rows; status 0, 2 if a log cannot be trusted (its row says so)."""
    from engine.review.columns import LOG_COLUMNS, READING_COLUMNS
    from engine.review.export import as_csv, as_jsonl, columns_text
    from engine.shipped import sample

    columns: Any = LOG_COLUMNS if args.rows == "logs" else READING_COLUMNS
    if args.columns:
        print("\n".join(columns_text(columns)))
        return 0
    if args.where is None:
        raise common.NotUsable("which log? name one, or a folder; --columns says what the columns are")
    args.where = sample(args.where)
    if args.output is not None and (args.output.suffix == ".toml" or _is_log(args)):
        raise common.NotUsable(f"{args.output} would overwrite a log; name another file, such as readings.csv")
    worst = _Worst()
    rows = (_logs if args.rows == "logs" else _readings)(args, worst)
    lines = (as_jsonl if _form(args) == "jsonl" else as_csv)(columns, rows)
    if args.output is None:
        sys.stdout.writelines(line.replace("\r\n", "\n") for line in lines)
    else:
        with args.output.open("w", encoding="utf-8", newline="") as file:
            file.writelines(lines)
        print(args.output)
    return worst.status


def _is_log(args: argparse.Namespace) -> bool:
    return bool(args.output.exists() and args.where.exists() and args.output.samefile(args.where))


class _Worst:
    """The exit status of the worst log so far."""

    status = 0

    def take(self, *, trusted: bool) -> None:
        self.status = max(self.status, 0 if trusted else 2)


def _logs(args: argparse.Namespace, worst: _Worst) -> Iterable[object]:
    """Return the rows of the logs, with their likeness and the marks that the rubric proposes."""
    from engine.review.desk import anonymous, marked
    from engine.review.row import digest_of, row_of
    from tui.review_desk import ReviewDesk, rubric_from

    rubric = rubric_from(args.rubric)
    if args.where.is_dir():
        desk = ReviewDesk(args.where, rubric)
        desk.look()
        desk.compare()
        rows = list(desk.rows)
    else:
        data = args.where.read_bytes() if args.where.is_file() else b""
        rows = [row_of(_audited(args.where), digest_of(data))]
    worst.take(trusted=all(row.trusted for row in rows))
    return marked(anonymous(rows) if args.anonymous else rows, rubric)


def _readings(args: argparse.Namespace, worst: _Worst) -> Iterable[object]:
    """Yield the rows of the readings, one log after the other."""
    from dataclasses import replace

    from engine.review.readings import readings
    from engine.session.beside import lies_beside
    from engine.session.folder import logs_in

    logs = logs_in(args.where) if args.where.is_dir() else [args.where]
    for number, log in enumerate(logs, start=1):
        audit = _audited(log)
        if audit.chain == "not a log" and lies_beside(log):
            continue
        worst.take(trusted=audit.trusted)
        name = f"log {number:03d}" if args.anonymous else audit.name
        yield from (replace(row, log=name) for row in readings(audit))


def _audited(log: Path) -> "Audit":
    from engine.review.audit import audit_file

    return audit_file(log)


def _form(args: argparse.Namespace) -> str:
    if args.form:
        return str(args.form)
    return "jsonl" if args.output is not None and args.output.suffix in (".jsonl", ".ndjson", ".json") else "csv"
