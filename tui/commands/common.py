"""What several commands share: their help, the folder option, the choice of the face, working on a job."""

import argparse
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from tui.collecting import not_collecting

if TYPE_CHECKING:
    from collections.abc import Callable

    from engine.session.runner import Runner
    from tui.plain.voice import Voice

Commands = argparse._SubParsersAction  # the type has no public name


class NotUsable(ValueError):
    """A command line that cannot be used; the message says what would be right."""


def new(commands: "Commands[argparse.ArgumentParser]", name: str, says: str, example: str) -> argparse.ArgumentParser:
    """Add a command with its line of help and an example."""
    return commands.add_parser(
        name,
        help=says,
        description=f"{says[0].upper()}{says[1:]}.",
        epilog=f"Example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
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
    if args.plain or not (sys.stdout.isatty() and sys.stdin.isatty()):
        return True
    return os.environ.get("TERM", "" if os.name == "posix" else "console") in ("dumb", "")


def work(args: argparse.Namespace, opening: "Callable[[], Runner]") -> int:
    """Let a person work on a job with the face that fits the terminal."""
    if is_plain(args):
        return work_plainly(opening())
    return on_screen(opening)


def on_screen(opening: "Callable[[], Runner] | None" = None, folder: Path | None = None) -> int:
    """Show a job, or the first screen on a folder; status 0.

    The job is opened before the screens, so that the first thing painted is the step. What was typed until then is no
    answer to it, and is dropped.
    """
    with not_collecting():
        job = opening() if opening else None
        from tui.app import TugtestApp

        app = TugtestApp(job, folder=folder)
    with suppress(ImportError):  # a system with another kind of terminal
        import termios

        termios.tcflush(sys.stdin, termios.TCIFLUSH)
    app.run()
    return app.return_code or 0


def work_plainly(runner: "Runner") -> int:
    """Let a person work on a job line by line; say first and last where its log is."""
    from tui.plain.face import PlainFace

    voice = plain_voice()
    voice.say(f"Log: {runner.path}")
    status = PlainFace(runner, voice).run()
    if not runner.state.over:
        go_on = "demo" if runner.state.demo else "resume"
        voice.say(f"Left. Everything recorded is in the log; tugtest {go_on} goes on.")
    voice.say(f"Log: {runner.path}")
    return status


def plain_voice() -> "Voice":
    """Return the plain face's way to the person at this terminal or pipe."""
    from tui.plain.voice import Voice

    return Voice(sys.stdin, sys.stdout)


def only_folder(args: argparse.Namespace) -> Path:
    """Return the folder of sessions for these options."""
    from engine.session.folder import sessions_folder

    return sessions_folder(args.folder)


def log_named(named: Path, folder: Path) -> Path:
    """Return the log that is meant: by its path, or else by its name in the folder of sessions."""
    inside = folder / named
    return inside if not named.exists() and inside.exists() else named
