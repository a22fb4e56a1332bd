"""``tugtest demo``: the main job on the facts of an invented boat, marked as a demo everywhere."""

import argparse
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.session.runner import Runner

FACTS = "grey-heron-facts.answers.toml"
"""The answers that give the demo its facts: the plan is the first thing that is seen."""


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "demo", "the main job on an invented boat's facts", "tugtest demo")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Open the demo at its plan."""

    def opening() -> "Runner":
        from engine.procedure.load import load
        from engine.session.answers import load_answers
        from engine.session.clock import SystemClock
        from engine.session.play import begin
        from engine.shipped import find, folder

        answers = load_answers(folder("sample_sessions") / FACTS)
        return begin(load(find(answers.procedure)), answers, common.only_folder(args), SystemClock())

    return common.work(args, opening)
