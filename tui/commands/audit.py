"""``tugtest audit``: recompute a log from what was typed."""

import argparse
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "audit", "recompute a log from what was typed", "tugtest audit sample_sessions/grey-heron-clean.toml"
    )
    parser.add_argument("logs", nargs="+", type=Path, metavar="LOG", help="session logs")
    parser.set_defaults(run=run, takes="logs")


_FILE_STATUS = {"whole": 0, "missing": 1, "changed": 2}


def run(args: argparse.Namespace) -> int:
    """Audit the logs; status 0 whole, closed and clean, 1 with anything to look at, 2 if one cannot be trusted."""
    from engine.review.audit import audit_file
    from engine.review.report import report_lines
    from engine.review.texts import text_note
    from engine.session.attach import check_files
    from tui.inert import one_line

    worst = 0
    for path in args.logs:
        found = audit_file(Path(path))
        files = check_files(Path(path), found.state)
        for line in report_lines(found, files):
            print(one_line(line))
        odd = found.procedure is not None and bool(text_note(found.procedure))
        worst = max(worst, found.exit_status, int(odd), *(_FILE_STATUS[file.verdict] for file in files))
    return worst
