"""``tugtest blocks``: the steps that procedures share, one line each, or one of them whole."""

import argparse
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "blocks", "the steps that procedures share", "tugtest blocks crimp")
    parser.add_argument("name", nargs="?", metavar="NAME", help="a block: what it takes, what it brings, its steps")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the blocks, those in the folder blocks here too; status 0."""
    from engine.procedure.block_alone import listing, told_of
    from tui.inert import one_line

    here = Path.cwd()
    print("\n".join(map(one_line, told_of(args.name, here) if args.name else listing(here))))
    return 0
