"""``tugtest review``: one line a log, worst first; cohort, likeness, history, marks."""

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from engine.procedure.model import Procedure
    from engine.review.index import Index
    from engine.review.likeness import Alike
    from engine.review.row import LogRow
    from engine.review.rubric import Rubric

SORTS = ("worst", "name", "person", "asset", "began", "mark", "time")
FILTERS = ("all", "to look at", "clean", "not to be trusted", "open", "like another")


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "review",
        "one line a log, worst first; cohort, likeness, marks",
        "tugtest review sample_sessions --cohort",
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
    parser.add_argument("--json", action="store_true", help="the lines as JSON")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Review a folder; status 0 if all is clean, 1 with anything to look at, 2 if a log cannot be trusted."""
    from engine.review.index import Index, index_path

    folder = args.where or common.only_folder(args)
    if not folder.is_dir():
        raise common.NotUsable(f"{folder}: there is no such folder")
    with Index(index_path()) as index:
        return _review(args, folder, index)


def _review(args: argparse.Namespace, folder: Path, index: "Index") -> int:
    from engine.review.alike import MOST, with_likeness
    from engine.review.folder import look

    looked = look(folder, index, jobs=max(0, args.jobs), progress=_progress if sys.stderr.isatty() else None)
    rows, alike = with_likeness(looked.rows, index, sys.maxsize if args.cohort else MOST)
    if args.mark or args.accept_clean:
        return _mark(args, folder, rows)
    if args.history is not None:
        return _say(_history(folder, rows, args.history))
    if args.rules is not None:
        return _say(_other_rules(folder, rows, args.rules))
    if args.cohort or args.rig:
        return _say(_cohorts(args, folder, rows, index, alike))
    if args.json:
        return _as_json(args, rows)
    _say(_table(args, folder, rows))
    return 2 if any(not row.trusted for row in rows) else int(any(not row.looks_clean for row in rows))


def _table(args: argparse.Namespace, folder: Path, rows: "Sequence[LogRow]") -> "Iterable[str]":
    from engine.review.marks import read_marks
    from engine.view.review import review_view
    from engine.view.review_lines import table_lines

    view = review_view(
        rows, _rubric(args), marks=read_marks(folder), sort=args.sort, show=args.show, search=args.search,
        hidden=args.anonymous,
    )  # fmt: skip
    return table_lines(view, why=args.why)


def _as_json(args: argparse.Namespace, rows: "Sequence[LogRow]") -> int:
    from engine.review.columns import LOG_COLUMNS
    from engine.review.desk import anonymous, arranged, marked

    told = marked(anonymous(rows) if args.anonymous else rows, _rubric(args))
    listed = arranged(told, args.sort, args.show, args.search)
    print(json.dumps([{c.name: c.of(row) for c in LOG_COLUMNS} for row in listed], indent=2, ensure_ascii=True))
    return 0


def _cohorts(
    args: argparse.Namespace, folder: Path, rows: "Sequence[LogRow]", index: "Index", alike: "Sequence[Alike]"
) -> "Iterator[str]":
    from engine.review.alike import cohorts, values_of
    from engine.review.cohort import planted, spreads, step_troubles
    from engine.review.desk import hidden_names
    from engine.review.rig import load_rig
    from engine.view.review_lines import cohort_lines

    for (procedure_id, revision), cohort in cohorts(rows).items():
        procedure = _procedure_of(folder, cohort)
        rig = load_rig(args.rig, procedure) if args.rig and procedure else None
        members = {row.name for row in cohort}
        names = hidden_names(rows) if args.anonymous else {name: name for name in members}
        values = {names[name]: found for name, found in values_of(cohort, index).items()}
        shown = [replace(row, name=names[row.name]) for row in cohort]
        pairs = [replace(p, one=names[p.one], other=names[p.other]) for p in alike if p.one in members]
        asks = {e.id: e.ask for e in procedure.entry_by_id.values()} if procedure else {}
        asks |= {s.id: s.title for s in procedure.steps} if procedure else {}
        title = f"{procedure_id}, revision {revision}: {len(cohort)} logs"
        faults = planted(shown, rig) if rig else ()
        yield from cohort_lines(title, step_troubles(cohort), spreads(values, rig), pairs, faults, asks)


def _procedure_of(folder: Path, cohort: "Sequence[LogRow]") -> "Procedure | None":
    from engine.review.audit import audit_file

    return audit_file(folder / cohort[0].name).procedure


def _history(folder: Path, rows: "Sequence[LogRow]", asset: str) -> "Iterable[str]":
    from engine.review.audit import audit_file
    from engine.review.history import before_after, history
    from engine.view.review_lines import history_lines

    wanted = asset.casefold().strip()
    logs = sorted((row for row in rows if row.asset.casefold() == wanted), key=lambda row: row.began)
    if not logs:
        known = ", ".join(sorted({row.asset for row in rows if row.asset})[:20])
        raise common.NotUsable(f'there is no log of "{asset}"; there are {known or "none"}')
    audits = [audit_file(folder / row.name) for row in logs]
    return history_lines(logs[0].asset, history(audits), {a.name: before_after(a) for a in audits})


def _other_rules(folder: Path, rows: "Sequence[LogRow]", profile: str) -> "Iterator[str]":
    from engine.review.audit import audit_file
    from engine.review.other_rules import under_rules

    for row in rows:
        changed = under_rules(audit_file(folder / row.name), profile) if row.trusted else ()
        yield f"{row.name}: {len(changed)} verdicts would differ under {profile}"
        yield from (f"  {verdict}" for verdict in changed)


def _mark(args: argparse.Namespace, folder: Path, rows: "Sequence[LogRow]") -> int:
    from engine.review.marks import FILE, Mark, write_marks
    from engine.session.clock import SystemClock

    at = SystemClock().now().isoformat(timespec="seconds")
    by_name = {row.name: row for row in rows}
    if args.accept_clean:
        marks = [Mark(row.name, row.head, accepted=True, by=args.by, at=at) for row in rows if row.looks_clean]
    else:
        name, mark, note = args.mark
        if (row := by_name.get(Path(name).name)) is None:
            raise common.NotUsable(f"{folder}: there is no log {name}")
        marks = [Mark(row.name, row.head, _number(mark), note=note, by=args.by, at=at)]
    write_marks(folder, marks)
    print(f"{folder / FILE}: {len(marks)} marks written; no log was touched")
    return 0


def _number(text: str) -> float:
    try:
        mark = float(text)
    except ValueError:
        mark = float("nan")
    if not 0 <= mark <= 1000:
        raise common.NotUsable(f'"{text}" is no mark; a number such as 87.5 would be right')
    return mark


def _rubric(args: argparse.Namespace) -> "Rubric":
    from engine.review.rubric import load_rubric, shipped_rubric

    return load_rubric(args.rubric) if args.rubric else shipped_rubric()


def _progress(done: int, total: int) -> None:
    if done == total or done % 50 == 0:
        print(f"\r{done} of {total} logs", end="\n" if done == total else "", file=sys.stderr, flush=True)


def _say(lines: "Iterable[str]") -> int:
    from tui.inert import one_line

    for line in lines:
        print(one_line(line))
    return 0
