"""``tugtest demo``: the main job on the facts of an invented boat, marked as a demo everywhere, apart from the jobs."""

import argparse
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.session.runner import Runner

FACTS = Path("grey-heron-facts")
"""The answers that give the demo its facts: the plan is the first thing that is seen."""

DEMOS = "demo"
"""Folder of the demos, inside the folder of sessions: no list of jobs holds them."""


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "demo", "the main job on an invented boat's facts", "tugtest demo")
    parser.add_argument("--new", action="store_true", help="begin anew, though the last demo is still open")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Go on with the demo that is open, or begin one at its plan."""
    folder = common.only_folder(args) / DEMOS

    def opening() -> "Runner":
        from engine.session.clock import SystemClock
        from engine.session.runner import Runner
        from engine.session.trouble import LogBusy

        last = None if args.new else _open_one(folder)
        if last is not None:
            with suppress(LogBusy):  # somebody looks at it in another window
                return Runner.resume(last, SystemClock())
        return _begun(folder)

    return common.work(args, opening)


def _open_one(folder: Path) -> Path | None:
    """Return the log of the demo that was worked on last and is still open."""
    if not folder.is_dir():
        return None
    from engine.session.shelf import shelf

    logs = [line.path for line in shelf(folder).lines if line.state and not line.state.over and not line.problem]
    return max(logs, key=lambda path: path.stat().st_mtime, default=None)


def _begun(folder: Path) -> "Runner":
    from engine.procedure.load import load
    from engine.session.answers import load_answers
    from engine.session.clock import SystemClock
    from engine.session.play import begin
    from engine.shipped import find, sample

    answers = load_answers(sample(FACTS, ".answers.toml"))
    return begin(load(find(answers.procedure)), answers, folder, SystemClock())
