"""``tugtest due``: the dated looks that are still to be made, and the answer to one of them."""

import argparse
import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.view.due import DueLine


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "due",
        "the dated looks after closing: what is still to be looked at, and the answer to one",
        'tugtest due --answer 2026-05-02-grey-heron-bow-receptacle.toml first-day "all cool and tight"',
    )
    parser.add_argument("where", nargs="?", type=Path, metavar="FOLDER", help="folder of sessions (else as --folder)")
    parser.add_argument("--answer", nargs=3, metavar=("LOG", "ITEM", "TEXT"), help="write down what was found")
    parser.add_argument("--person", default="", help="who looked")
    parser.add_argument("--json", action="store_true", help="as JSON")
    common.add_folder(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """List the dated looks, or answer one; status 1 if one is due now, 2 for a log that cannot be read or written."""
    if args.answer:
        return _answer(args)
    from engine.session.clock import SystemClock
    from engine.session.shelf import shelf
    from engine.view.due import due_view

    folder = args.where or common.only_folder(args)
    lines = shelf(folder, most=sys.maxsize)
    found = due_view(lines, SystemClock().now())
    if args.json:
        print(json.dumps([asdict(due) for due in found], indent=2, ensure_ascii=True))
    else:
        print("\n".join(_lines(found, folder)))
    unread = [line for line in lines if line.problem]
    for line in unread:
        print(f"{line.path.name}: {line.problem}", file=sys.stderr)
    return 2 if unread else int(any(due.late for due in found))


def _lines(found: "tuple[DueLine, ...]", folder: Path) -> list[str]:
    from tui.inert import one_line

    if not found:
        return [f"Nothing is left to look at in {folder}."]
    return [
        one_line(text)
        for due in found
        for text in (f"{due.on}, {due.when}: {due.asset}: {due.says}", f"  {due.item}  in {Path(due.path).name}")
    ]


def _answer(args: argparse.Namespace) -> int:
    from engine.session.clock import SystemClock
    from engine.session.commands import FollowUp
    from engine.session.outcome import Recorded
    from engine.session.runner import Runner

    log, item, text = args.answer
    runner = Runner.resume(common.log_named(Path(log), args.where or common.only_folder(args)), SystemClock())
    try:
        outcome = runner.send(FollowUp(item, text, args.person))
    finally:
        runner.close()
    if isinstance(outcome, Recorded):
        print(f"recorded in {runner.path.name}: {item}")
        return 0
    items = ", ".join(runner.state.due) or "none"
    print(f"{log}: {getattr(outcome, 'sentence', 'not recorded')}; its dated looks: {items}", file=sys.stderr)
    return 2
