"""``tugtest list``: the procedures, one line each."""

import argparse

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    common.new(commands, "list", "the procedures, one line each", "tugtest list").set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the procedures."""
    from engine.procedure.head import head
    from engine.shipped import shipped

    procedures = [head(path) for path in shipped()]
    width = max(len(p.id) for p in procedures)
    for procedure in procedures:
        print(f"{procedure.id:<{width}}  {procedure.summary}")
    return 0
