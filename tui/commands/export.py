"""``tugtest export``: logs as CSV or JSON lines, a row a log or a row a reading."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.commands import common

if TYPE_CHECKING:
    from engine.review.desk import Desk

ENDINGS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl"}
"""The form that a file's ending stands for."""


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
    """Write the rows; status 0, 2 if a log or the marks cannot be trusted (the log's row says so)."""
    from engine.review.columns import LOG_COLUMNS, READING_COLUMNS
    from engine.review.export import as_csv, as_jsonl, columns_text, starts
    from engine.review.put import demand_ours, put

    columns: Any = LOG_COLUMNS if args.rows == "logs" else READING_COLUMNS
    if args.columns:
        print("\n".join(columns_text(columns)))
        return 0
    form = _form(args)
    if args.output is not None:
        demand_ours(args.output, starts(columns, form))
    desk = _desk(args)
    rows: Any = _logs(desk) if args.rows == "logs" else desk.readings()
    lines = (as_jsonl if form == "jsonl" else as_csv)(columns, rows)
    if args.output is None:
        sys.stdout.writelines(line.replace("\r\n", "\n") for line in lines)
    else:
        put(args.output, lines, starts(columns, form))
        print(args.output)
    return 2 if common.desk_status(desk) == 2 else 0


def _form(args: argparse.Namespace) -> str:
    """Return the form that is wanted; an ending that stands for another, or for none, is refused by name."""
    if args.where is None:
        raise common.NotUsable("which log? name one, or a folder; --columns says what the columns are")
    ending = args.output.suffix if args.output is not None else ""
    if ending and not args.form and ending not in ENDINGS:
        raise common.NotUsable(f"{args.output}: no export ends in {ending}; the endings are {', '.join(ENDINGS)}")
    return args.form or ENDINGS.get(ending, "csv")


def _desk(args: argparse.Namespace) -> "Desk":
    """Return the folder that was named, or that of the one log, looked at and held against each other."""
    from engine.review.desk import Desk
    from engine.shipped import sample

    where = sample(args.where)
    if not where.exists():
        raise common.NotUsable(f"{where}: there is no such log or folder")
    one, folder = ("", where) if where.is_dir() else (where.name, where.parent)
    desk = Desk(folder, common.rubric(args.rubric), hidden=args.anonymous, sort="name")
    desk.look(only=one)
    desk.compare()
    return desk


def _logs(desk: "Desk") -> list[Any]:
    from engine.review.listed import marked

    return marked(desk.listed(), desk.rubric)
