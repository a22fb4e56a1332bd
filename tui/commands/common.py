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

    from engine.review.desk import Desk
    from engine.review.rubric import Rubric
    from engine.session.runner import Runner
    from tui.plain.voice import Voice

Commands = argparse._SubParsersAction  # the type has no public name


MOST_BYTES = 2_000_000
"""The largest file that a person writes for the program [bytes]; a project rule."""


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


def plain_file(path: Path) -> Path:
    """Return the path of a file that a person wrote; one that is not there is left to whoever reads it.

    Raises:
        NotUsable: if reading it would never end: it is a pipe or a device, or too large.
    """
    if path.exists() and not path.is_file():
        raise NotUsable(f"{path}: it is a folder, pipe or device, not a file")
    if path.is_file() and path.stat().st_size > MOST_BYTES:
        raise NotUsable(f"{path}: it is larger than {MOST_BYTES // 1_000_000} MB, which no such file is")
    return path


def rubric(path: Path | None) -> "Rubric":
    """Return the rubric of a file, or the one that is shipped."""
    from engine.review.rubric import load_rubric, shipped_rubric

    return load_rubric(path) if path else shipped_rubric()


def desk_status(desk: "Desk") -> int:
    """Return how a folder stands, and say first if its marks cannot be read."""
    from engine.inert import one_line

    if desk.bad_marks:
        print(one_line(desk.bad_marks), file=sys.stderr)
    return desk.status


def add_folder(parser: argparse.ArgumentParser) -> None:
    """Add ``--folder``."""
    parser.add_argument(
        "--folder",
        type=Path,
        default=None,
        metavar="DIR",
        help="where sessions are kept (else TUGTEST_FOLDER, else your data folder)",
    )


def add_procedures(parser: argparse.ArgumentParser) -> None:
    """Add ``--procedures``; ``tui.cli`` puts it into the environment, where all faces find it."""
    parser.add_argument(
        "--procedures",
        type=Path,
        default=None,
        metavar="DIR",
        help="where your own procedures are (else TUGTEST_PROCEDURES, else procedures in your data folder)",
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


def standing_folder(args: argparse.Namespace) -> Path:
    """Return the folder of logs that was named, or that of the sessions.

    Raises:
        NotUsable: if it is not there: nothing can be said of it, neither good nor bad.
    """
    from engine.shipped import sample

    folder: Path = sample(args.where) if args.where else only_folder(args)
    if not folder.is_dir():
        raise NotUsable(f"{folder}: there is no such folder")
    return folder


def log_named(named: Path, folder: Path) -> Path:
    """Return the log that is meant: by its path, or else by its name in the folder of sessions."""
    inside = folder / named
    return inside if not named.exists() and inside.exists() else named
