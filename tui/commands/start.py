"""``tugtest start``: begin a job, by hand or from an answers file."""

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.procedure.model import Procedure
    from engine.session.commands import Start
    from engine.session.runner import Runner


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "start", "begin a job", 'tugtest start bow-receptacle --asset "Grey Heron" --person "R. Marsh"'
    )
    parser.add_argument("procedure", metavar="PROCEDURE", help="name of a procedure (see: tugtest list), or a file")
    parser.add_argument("--asset", default="", help="the boat or trailer")
    parser.add_argument("--person", default="", help="who works")
    parser.add_argument("--profile", default="", help="rules: industry, federal or house (else the procedure's own)")
    parser.add_argument("--answers", type=Path, metavar="FILE", help="play these answers, without a person")
    common.add_folder(parser)
    common.add_plain(parser)
    common.add_procedures(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Begin the job; status 0 if it was left open or closed clean, 1 if it ended not clean, 2 if it cannot begin."""
    from engine.procedure.load import load
    from engine.shipped import find, is_own
    from tui.inert import one_line

    file = find(args.procedure)
    procedure = load(file)
    if file.stem == args.procedure and is_own(file):
        print(one_line(f"{file.stem}: your own, {file}"), file=sys.stderr)
    if args.answers is not None:
        return _play(args, procedure)
    start = _start(args, procedure)
    if start is None:
        return 2

    def opening() -> "Runner":
        from engine.session.clock import SystemClock
        from engine.session.runner import Runner

        return Runner.start(procedure, start, common.only_folder(args), SystemClock())

    return common.work(args, opening)


def _play(args: argparse.Namespace, procedure: "Procedure") -> int:
    from engine.session.answers import load_answers
    from engine.shipped import sample
    from tui.unattended import play_answers

    file = common.plain_file(sample(args.answers, ".answers.toml"))
    answers = load_answers(file)
    given = {name: text for name in ("asset", "person", "profile") if (text := getattr(args, name))}
    answers = replace(answers, start=replace(answers.start, **given))
    return play_answers(procedure, answers, file.name, common.only_folder(args), sys.stdout, sys.stderr)


def _start(args: argparse.Namespace, procedure: "Procedure") -> "Start | None":
    """Return how the job starts; asks for the boat, the person and the rules where no boat was named."""
    from engine.session.commands import Start
    from tui.plain.voice import Gone

    if args.asset:
        return Start(args.asset, args.person, args.profile)
    voice = common.plain_voice()
    try:
        voice.say(procedure.title)
        while not (asset := voice.ask("Which boat or trailer is it?")):
            voice.say("Nothing was typed. The log is kept under this name: type one, such as Grey Heron.")
        person = args.person or voice.ask("Who works on it? (may be left empty)")
        rules = args.profile or _rules(procedure)
        return Start(asset, person, rules)
    except Gone:
        return None


def _rules(procedure: "Procedure") -> str:
    """Ask which rules judge the job; the procedure's own if none is picked."""
    from engine.published.profiles import profile, profile_names

    names = (procedure.profile, *(name for name in profile_names() if name != procedure.profile))
    titles = (f"{profile(name).title}{' (usual here)' if name == procedure.profile else ''}" for name in names)
    picked = common.plain_voice().pick("Which rules judge this job?", titles, otherwise="the usual ones")
    return names[picked or 0]
