"""``tugtest page``: a log as one page to show, print or keep; a folder as pages with an index."""

import argparse
import sys
from pathlib import Path

from engine.inert import one_line
from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "page", "a log as one HTML page to show, print or keep",
        "tugtest page grey-heron-clean -o grey-heron.html",
    )  # fmt: skip
    parser.add_argument("log", type=Path, nargs="?", metavar="LOG", help="a session log, or a folder of them")
    parser.add_argument("--procedure", metavar="PROCEDURE", help="a procedure instead, without playing it")
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE.html", help="where to write it (a folder for a folder of logs)"
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the page; status 0 if the log is good, 1 with anything to look at, 2 if it cannot be trusted."""
    if args.procedure:
        return _procedure(args.procedure, args.output)
    if args.log is None:
        raise common.NotUsable("name a log, or a procedure: tugtest page --procedure bow-receptacle")
    return _folder(args.log, args.output or args.log / "pages") if args.log.is_dir() else _one(args.log, args.output)


def _procedure(name: str, output: Path | None) -> int:
    from engine.procedure.load import load
    from engine.review.page.preview import write_preview
    from engine.shipped import find

    file = find(name)
    target = output or Path(f"{file.stem}.html")
    write_preview(load(file), target)
    print(one_line(str(target)))
    return 0


def _one(named: Path, output: Path | None) -> int:
    from engine.review.page import write_page
    from engine.shipped import sample

    log, target = sample(named), output or named.with_suffix(".html")
    if not log.is_file():
        raise common.NotUsable(f"{log}: there is no such log")
    audit = write_page(log, target)
    print(one_line(str(target)))
    return audit.exit_status


def _folder(folder: Path, target: Path) -> int:
    from engine.review.desk import Desk

    desk = Desk(folder)
    desk.look()
    desk.compare()
    refused = [*desk.pages(target)]
    for sentence in refused:
        print(one_line(sentence), file=sys.stderr)
    print(one_line(f"{target / 'index.html'}: {len(desk.rows)} logs"))
    return 2 if refused else common.desk_status(desk)
