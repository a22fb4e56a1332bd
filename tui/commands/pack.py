"""``tugtest pack``: one file to hand in, with the log, its photos and the chain's head."""

import argparse
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "pack", "one file to hand in: log, photos, head", "tugtest pack LOG")
    parser.add_argument("log", type=Path, metavar="LOG", help="a session log")
    parser.add_argument("-o", "--output", type=Path, default=None, metavar="FILE", help="the zip to write")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Pack the session and print the file."""
    from engine.session.pack import pack

    print(pack(args.log, args.output))
    return 0
