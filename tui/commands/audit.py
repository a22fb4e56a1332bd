"""``tugtest audit``: recompute a log from what was typed."""

import argparse
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "audit", "recompute a log from what was typed", "tugtest audit grey-heron-clean")
    parser.add_argument("logs", nargs="+", type=Path, metavar="LOG", help="session logs")
    parser.set_defaults(run=run, takes="logs")


_FILE_STATUS = {"whole": 0, "missing": 1, "changed": 2}


def run(args: argparse.Namespace) -> int:
    """Audit the logs; status 0 whole, closed and clean, 1 with anything to look at, 2 if one cannot be trusted."""
    from engine.review.audit import audit_file
    from engine.review.report import report_lines
    from engine.review.texts import text_note
    from engine.session.attach import check_files
    from engine.shipped import sample
    from tui.inert import one_line

    worst = 0
    paths = [sample(Path(named)) for named in args.logs]
    if folders := [path for path in paths if path.is_dir()]:
        raise common.NotUsable(f"{folders[0]} is a folder; tugtest review {folders[0]} looks at all its logs")
    for path in paths:
        found = audit_file(path)
        files = check_files(path, found.state)
        for line in report_lines(found, files):
            print(one_line(line))
        odd = found.procedure is not None and bool(text_note(found.procedure))
        worst = max(worst, found.exit_status, int(odd), *(_FILE_STATUS[file.verdict] for file in files))
    return worst
