"""``tugtest due``: the dated looks that are still to be made, and the answer to one of them."""

import argparse
import json
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from engine.inert import one_line
from tui.commands import common

if TYPE_CHECKING:
    from engine.session.due import DueLine


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
    """List the dated looks, or answer one; status 1 if one is due now, 2 for an answer that does not stand."""
    if args.answer:
        return _answer(args)
    from engine.session.clock import SystemClock
    from engine.session.due import due_lines

    named = args.where or args.folder
    folder = common.standing_folder(args) if named else common.only_folder(args)
    now = SystemClock().now()
    open_now = [line for line in due_lines(folder) if not line.outcome]
    if args.json:
        print(json.dumps([_as_json(line, now) for line in open_now], indent=2, ensure_ascii=True))
    else:
        print("\n".join(_lines(open_now, folder, now)))
    return int(any(line.overdue(now) for line in open_now))


def _lines(open_now: "list[DueLine]", folder: Path, now: datetime) -> list[str]:
    from tui.plain.text import wrapped

    if not open_now:
        return [f"Nothing is left to look at in {folder}."]
    lines = []
    for line in open_now:
        lines += wrapped(f"{line.on[:10]}, {_when(line, now)}: {line.asset}: {line.says}", hang=2)
        lines.append(one_line(f'  tugtest due --answer {line.log.name} {line.item} "..."'))
    return lines


def _when(line: "DueLine", now: datetime) -> str:
    from engine.view.words import span

    left_s = (datetime.fromisoformat(line.on) - now).total_seconds()
    return f"due since {span(-left_s)}" if line.overdue(now) else f"in {span(left_s)}"


def _as_json(line: "DueLine", now: datetime) -> dict[str, object]:
    return {
        "log": str(line.log),
        "asset": line.asset,
        "item": line.item,
        "says": line.says,
        "on": line.on,
        "overdue": line.overdue(now),
    }


def _answer(args: argparse.Namespace) -> int:
    from engine.session.clock import SystemClock
    from engine.session.due import answer
    from engine.session.outcome import Recorded

    log, item, text = args.answer
    path = common.log_named(Path(log), args.where or common.only_folder(args))
    outcome = answer(path, item, text, args.person, SystemClock())
    if not isinstance(outcome, Recorded):
        raise common.NotUsable(f"{path.name}: {getattr(outcome, 'sentence', 'not recorded')}")
    print(one_line(f"recorded in {path.name}: {item}"))
    return 0
