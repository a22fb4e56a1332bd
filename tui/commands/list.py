"""``tugtest list``: the procedures, one line each."""

import argparse
import sys

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "list", "the procedures, one line each", "tugtest list")
    common.add_procedures(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the procedures; status 1 if one of one's own cannot be read."""
    from engine.procedure.head import heads
    from tui.inert import one_line

    procedures, refused = heads()
    width = max(len(p.id) for p in procedures)
    for procedure in procedures:
        print(one_line(f"{procedure.id:<{width}}  {procedure.summary}"))
    for sentence in refused:
        print(one_line(sentence), file=sys.stderr)
    return int(bool(refused))
