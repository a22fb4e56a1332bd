"""``tugtest review``: one line a log, worst first; cohort, likeness, history, marks."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tui.review_desk import ReviewDesk

SORTS = ("worst", "name", "person", "asset", "began", "mark", "time")
FILTERS = ("all", "to look at", "clean", "not to be trusted", "open", "like another", "not marked")


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "review",
        "one line a log, worst first; cohort, likeness, marks",
        "tugtest review sample_sessions",
    )
    parser.add_argument("where", nargs="?", type=Path, metavar="FOLDER", help="folder of sessions (else as --folder)")
    parser.add_argument("--sort", choices=SORTS, default="worst", help="order of the lines")
    parser.add_argument("--show", choices=FILTERS, default="all", help="which lines")
    parser.add_argument("--search", default="", metavar="WORDS", help="only lines with all these words")
    parser.add_argument("--anonymous", action="store_true", help="hide persons, files and boats")
    parser.add_argument(
        "--rubric", type=Path, metavar="FILE.toml", help="how marks are proposed (else the shipped one)"
    )
    parser.add_argument("--why", action="store_true", help="say where each missing point of a mark went")
    parser.add_argument("--cohort", action="store_true", help="which steps go wrong, how readings spread")
    parser.add_argument("--rig", type=Path, metavar="FILE.toml", help="known values and planted faults of a shared rig")
    parser.add_argument("--history", metavar="ASSET", help="what the readings of one boat or trailer did over time")
    parser.add_argument("--rules", metavar="PROFILE", help="verdicts that another rule profile would change")
    parser.add_argument(
        "--mark", nargs=3, metavar=("LOG", "MARK", "NOTE"), help="write a mark and a note; the log stays"
    )
    parser.add_argument("--accept-clean", action="store_true", help="mark every clean log as accepted")
    parser.add_argument("--by", default="", help="who marks")
    parser.add_argument("--jobs", type=int, default=0, metavar="N", help="processes (else one a core)")
    parser.add_argument("--scheduler", default="", metavar="ADDRESS", help="audit on the machines of a Dask scheduler")
    parser.add_argument("--json", action="store_true", help="the lines as JSON")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Review a folder; status 0 if all is clean, 1 with anything to look at, 2 if a log cannot be trusted."""
    from engine.shipped import sample
    from tui.review_desk import ReviewDesk, rubric_from

    folder = sample(args.where) if args.where else common.only_folder(args)
    if not folder.is_dir():
        raise common.NotUsable(f"{folder}: there is no such folder")
    desk = ReviewDesk(
        folder, rubric_from(args.rubric), args.rig, args.sort, args.show, args.search, hidden=args.anonymous,
        all_likeness=args.cohort, scheduler=args.scheduler,
    )  # fmt: skip
    if not common.is_plain(args) and not _asks_for_text(args):
        return _on_screen(desk, args)
    desk.look(jobs=max(0, args.jobs), progress=_progress if sys.stderr.isatty() else None)
    desk.compare()
    return _told(desk, args)


def _asks_for_text(args: argparse.Namespace) -> bool:
    return bool(args.cohort or args.rig or args.history or args.rules or args.mark or args.accept_clean or args.json)


def _on_screen(desk: "ReviewDesk", args: argparse.Namespace) -> int:
    from tui.review_app import ReviewApp

    app = ReviewApp(desk, jobs=max(0, args.jobs), by=args.by)
    app.run()
    return app.return_code or _status(desk)


def _told(desk: "ReviewDesk", args: argparse.Namespace) -> int:
    if args.mark:
        name, mark, note = args.mark
        return _say([desk.mark(Path(name).name, mark, note, args.by)])
    if args.accept_clean:
        return _say([desk.accept_clean(args.by)])
    if args.history is not None:
        return _say(desk.history(args.history))
    if args.rules is not None:
        return _say(desk.other_rules(args.rules))
    if args.cohort or args.rig:
        return _say(desk.cohort())
    if args.json:
        return _as_json(desk)
    from engine.view.review_lines import table_lines

    _say([*table_lines(desk.view(), why=args.why), *desk.left_out])
    return _status(desk)


def _status(desk: "ReviewDesk") -> int:
    return 2 if any(not row.trusted for row in desk.rows) else int(any(not row.looks_clean for row in desk.rows))


def _as_json(desk: "ReviewDesk") -> int:
    from engine.review.columns import LOG_COLUMNS
    from engine.review.desk import marked

    told = marked(desk.listed(), desk.rubric)
    print(json.dumps([{c.name: c.of(row) for c in LOG_COLUMNS} for row in told], indent=2, ensure_ascii=True))
    return 0


def _progress(done: int, total: int) -> None:
    if done == total or done % 50 == 0:
        print(f"\r{done} of {total} logs", end="\n" if done == total else "", file=sys.stderr, flush=True)


def _say(lines: "Iterable[str]") -> int:
    from tui.inert import one_line

    for line in lines:
        print(one_line(line))
    return 0
