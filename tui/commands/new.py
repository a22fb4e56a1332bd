"""``tugtest new``: a new small procedure to begin with, its schemas and a file of answers beside it."""

import argparse
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    example = "tugtest new anchor-light.toml --from nav-lights"
    parser = common.new(
        commands, "new", "a new small procedure to begin with, and answers with which it plays", example
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="the file to write, such as anchor-light.toml")
    parser.add_argument(
        "--from", dest="like", default="outlet-12v", metavar="NAME", help="whose head it takes (else outlet-12v)"
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the files; status 0, or 2 if one is there already."""
    from engine.session.new_job import begin_procedure
    from engine.shipped import find
    from tui.inert import one_line

    for file in begin_procedure(args.file, find(args.like)):
        print(one_line(str(file)))
    return 0
