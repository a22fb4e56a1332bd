"""``tugtest resume``: go on with a job. Without a name, with the one that is open."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.session.runner import Runner


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "resume", "go on with a job where it was left", "tugtest resume")
    parser.add_argument(
        "log",
        nargs="?",
        type=Path,
        metavar="LOG",
        help="its log; without it, the one open session",
    )
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Go on with the job; status 0 if left open or closed clean, 1 if not clean, 2 if there is none to go on with."""
    folder = common.only_folder(args)
    path = common.log_named(args.log, folder) if args.log else _only_open(folder)

    def opening() -> "Runner":
        from engine.session.clock import SystemClock
        from engine.session.runner import Runner

        return Runner.resume(path, SystemClock())

    return common.work(args, opening)


def _only_open(folder: Path) -> Path:
    """Return the one open session.

    Raises:
        NotUsable: if there is none, or more than one.
    """
    from engine.session.shelf import shelf

    lines = [line for line in shelf(folder).lines if line.state and not line.state.over and not line.problem]
    if not lines:
        raise common.NotUsable(f"there is no open session in {folder}; tugtest start begins one")
    if len(lines) > 1:
        named = "\n".join(f"  tugtest resume {line.path}" for line in lines)
        raise common.NotUsable(
            f"{len(lines)} sessions are open; tugtest alone lists them to choose by a digit, or name one:\n{named}"
        )
    return lines[0].path
