"""``tugtest start``: begin a job, by hand or from an answers file."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.session.runner import Runner


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "start", "begin a job", 'tugtest start bow-receptacle --asset "Grey Heron" --person "R. Marsh"'
    )
    parser.add_argument("procedure", help="name of a procedure (see: tugtest list), or a file")
    parser.add_argument("--asset", default="", help="the boat or trailer")
    parser.add_argument("--person", default="", help="who works")
    parser.add_argument("--profile", default="", help="rules: industry, federal or house (else the procedure's own)")
    parser.add_argument("--answers", type=Path, metavar="FILE", help="play these answers, without a person")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Begin the job."""
    from engine.procedure.load import load
    from engine.shipped import find

    path = find(args.procedure)
    if args.answers is not None:
        from tui.unattended import play_file

        return play_file(load(path), args.answers, common.only_folder(args), sys.stdout)
    asset = args.asset or _ask("Which boat or trailer is it?")
    person = args.person or _ask("Who works?")

    def opening() -> "Runner":
        from engine.session.clock import SystemClock
        from engine.session.commands import Start
        from engine.session.runner import Runner

        return Runner.start(load(path), Start(asset, person, args.profile), common.only_folder(args), SystemClock())

    return common.work(args, opening)


def _ask(question: str) -> str:
    print(question, flush=True)
    return sys.stdin.readline().strip()
