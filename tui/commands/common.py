"""What several commands share: the folder option, the choice of the face, and reading a procedure."""

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from engine.session.clock import Clock
    from engine.session.runner import Runner

Commands = argparse._SubParsersAction  # the type has no public name


def new(commands: "Commands[argparse.ArgumentParser]", name: str, says: str, example: str) -> argparse.ArgumentParser:
    """Add a command with its line of help and an example."""
    return commands.add_parser(
        name, help=says, description=f"{says[0].upper()}{says[1:]}.", epilog=f"Example: {example}"
    )


def add_folder(parser: argparse.ArgumentParser) -> None:
    """Add ``--folder``."""
    parser.add_argument(
        "--folder",
        type=Path,
        default=None,
        metavar="DIR",
        help="where sessions are kept (else TUGTEST_FOLDER, else your data folder)",
    )


def add_plain(parser: argparse.ArgumentParser) -> None:
    """Add ``--plain``."""
    parser.add_argument("--plain", action="store_true", help="line by line, without any escape code")


def is_plain(args: argparse.Namespace) -> bool:
    """Return whether the plain face is wanted: asked for, no terminal, or a dumb one."""
    return (
        bool(args.plain)
        or not (sys.stdout.isatty() and sys.stdin.isatty())
        or os.environ.get("TERM", "") in ("dumb", "")
    )


def work(args: argparse.Namespace, opening: "Callable[[], Runner]", clock: "Clock | None" = None) -> int:
    """Let a person work on a job with the face that fits the terminal."""
    if is_plain(args):
        from tui.plain.face import work_plainly

        return work_plainly(opening(), sys.stdin, sys.stdout)
    from tui.app import TugtestApp

    app = TugtestApp(opening, clock)
    app.run()
    return app.return_code or 0


def only_folder(args: argparse.Namespace) -> Path:
    """Return the folder of sessions for these options."""
    from engine.session.folder import sessions_folder

    return sessions_folder(args.folder)
