"""``tugtest page``: a log as one page to show, print or keep; a folder as pages with an index."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.review.audit import Audit


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "page", "a log as one HTML page to show, print or keep",
        "tugtest page grey-heron-clean -o grey-heron.html",
    )  # fmt: skip
    parser.add_argument("log", type=Path, metavar="LOG", help="a session log, or a folder of them")
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE.html", help="where to write it (a folder for a folder of logs)"
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the page; status 0 if the log is good, 1 with anything to look at, 2 if it cannot be trusted."""
    return _folder(args.log, args.output or args.log / "pages") if args.log.is_dir() else _one(args.log, args.output)


def _one(named: Path, output: Path | None) -> int:
    from engine.review.audit import audit_file
    from engine.shipped import sample

    log = sample(named)
    target = output or named.with_suffix(".html")
    if target.resolve() == log.resolve():
        raise common.NotUsable(
            f"{target}: is the log itself; name another file, such as {log.with_suffix('.html').name}"
        )
    if not log.is_file():
        raise common.NotUsable(f"{log}: there is no such log")
    audit = audit_file(log)
    target.write_text(_page(log, audit), encoding="utf-8", newline="\n")
    print(target)
    return audit.exit_status


def _folder(folder: Path, target: Path) -> int:
    from engine.review.audit import audit_file
    from engine.review.desk import arranged
    from engine.review.page import index
    from engine.review.row import row_of
    from engine.session.beside import lies_beside
    from engine.session.folder import logs_in

    target.mkdir(parents=True, exist_ok=True)
    rows, worst = [], 0
    for log in logs_in(folder):
        audit = audit_file(log)
        if audit.chain == "not a log" and lies_beside(log):
            continue
        (target / f"{log.stem}.html").write_text(_page(log, audit), encoding="utf-8", newline="\n")
        rows.append(row_of(audit))
        worst = max(worst, audit.exit_status)
    listed = arranged(rows)
    told = index(listed, [f"{Path(row.name).stem}.html" for row in listed])
    (target / "index.html").write_text(told, encoding="utf-8", newline="\n")
    print(f"{target / 'index.html'}: {len(rows)} logs", file=sys.stdout)
    return worst


def _page(log: Path, audit: "Audit") -> str:
    from engine.review.page import page, photos_of

    return page(audit, photos_of(log, audit.state))
