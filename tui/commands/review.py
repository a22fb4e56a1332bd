"""``tugtest review``: one line a log, worst first; cohort, likeness, history, marks."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from collections.abc import Iterable

    from engine.review.desk import Desk

SORTS = ("worst", "name", "person", "asset", "began", "mark", "time")
FILTERS = ("all", "to look at", "clean", "not to be trusted", "open", "to ask about", "like another", "not marked")


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
    parser.add_argument("--accept-clean", action="store_true", help="accept the logs with nothing to look at, by name")
    parser.add_argument("--by", default="", help="who marks")
    parser.add_argument("--jobs", type=int, default=0, metavar="N", help="processes (else one a core)")
    parser.add_argument("--scheduler", default="", metavar="ADDRESS", help="audit on the machines of a Dask scheduler")
    parser.add_argument("--json", action="store_true", help="the lines as JSON")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Review a folder; status 0 if all is clean, 1 with anything to look at, 2 if a log cannot be trusted."""
    from engine.review.desk import Desk

    folder = common.standing_folder(args)
    rig = args.rig and common.plain_file(args.rig)
    desk = Desk(
        folder, common.rubric(args.rubric), rig, args.sort, args.show, args.search, hidden=args.anonymous,
        all_likeness=args.cohort, scheduler=args.scheduler,
    )  # fmt: skip
    if not common.is_plain(args) and not _asks_for_text(args):
        return _on_screen(desk, args)
    desk.look(jobs=max(0, args.jobs), progress=_progress if sys.stderr.isatty() else None)
    desk.compare()
    return _told(desk, args)


def _asks_for_text(args: argparse.Namespace) -> bool:
    return bool(args.cohort or args.rig or args.history or args.rules or args.mark or args.accept_clean or args.json)


def _on_screen(desk: "Desk", args: argparse.Namespace) -> int:
    from tui.review_app import ReviewApp

    app = ReviewApp(desk, jobs=max(0, args.jobs), by=args.by)
    app.run()
    return app.return_code or desk.status


def _told(desk: "Desk", args: argparse.Namespace) -> int:
    if args.mark:
        name, mark, note = args.mark
        return _say([desk.mark(Path(name).name, mark, note, args.by)])
    if args.accept_clean:
        _say(f"accepted: {desk.shown_name(row.name)}" for row in desk.acceptable())
        return _say([desk.accept_clean(args.by)])
    if args.json:
        return _as_json(desk)
    from engine.view.review import review_view
    from engine.view.review_lines import cohort_lines, past_lines, rules_lines, table_lines

    if args.history is not None:
        return _say(past_lines(desk.past(args.history)))
    if args.rules is not None:
        return _say(rules_lines(desk, args.rules))
    if args.cohort or args.rig:
        return _say(line for cohort in desk.cohorts() for line in cohort_lines(cohort))
    _say([*table_lines(review_view(desk), why=args.why), *desk.left_out])
    return common.desk_status(desk)


def _as_json(desk: "Desk") -> int:
    from engine.review.columns import LOG_COLUMNS
    from engine.review.listed import marked

    told = marked(desk.listed(), desk.rubric)
    print(json.dumps([{c.name: c.of(row) for c in LOG_COLUMNS} for row in told], indent=2, ensure_ascii=True))
    common.desk_status(desk)
    return 0


def _progress(done: int, total: int) -> None:
    if done == total or done % 50 == 0:
        print(f"\r{done} of {total} logs", end="\n" if done == total else "", file=sys.stderr, flush=True)


def _say(lines: "Iterable[str]") -> int:
    from tui.inert import one_line

    for line in lines:
        print(one_line(line))
    return 0
