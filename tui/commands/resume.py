"""``tugtest resume``: go on with a job. Without a name, with the one that is open."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.session.runner import Runner


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "resume", "go on with a job where it was left", "tugtest resume")
    parser.add_argument("log", nargs="?", type=Path, help="its log; without it, the one open session")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Go on with the job."""
    path = args.log or _only_open(common.only_folder(args))
    if path is None:
        return 2

    def opening() -> "Runner":
        from engine.session.clock import SystemClock
        from engine.session.runner import Runner

        return Runner.resume(path, SystemClock())

    return common.work(args, opening)


def _only_open(folder: Path) -> Path | None:
    from engine.session.shelf import shelf

    lines = [line for line in shelf(folder) if line.state is not None and not line.state.over and not line.problem]
    if len(lines) == 1:
        return lines[0].path
    if not lines:
        print(f"there is no open session in {folder}; tugtest start begins one", file=sys.stderr)
        return None
    print("several sessions are open; name one:", file=sys.stderr)
    for line in lines:
        print(f"  tugtest resume {line.path}", file=sys.stderr)
    return None
