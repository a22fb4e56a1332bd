"""``tugtest home`` (and ``tugtest`` alone): what can be done."""

import argparse

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "home", "what can be done: go on, start, read", "tugtest")
    common.add_folder(parser)
    common.add_plain(parser)
    common.add_procedures(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Show the first screen; status 0, or that of what was picked."""
    if not common.is_plain(args):
        return common.on_screen(folder=args.folder)
    from tui.plain.home import Doors, home

    doors = Doors(
        go_on=lambda path: _run("resume", [str(path), "--plain"], args),
        begin=lambda name: _run("start", [name, "--plain"], args),
        read=lambda path: _run("audit", [str(path)], args),
    )
    return home(common.only_folder(args), common.plain_voice(), doors)


def _run(command: str, words: list[str], args: argparse.Namespace) -> int:
    from tui.cli import main

    folder = ["--folder", str(args.folder)] if args.folder and command != "audit" else []
    return main([command, *words, *folder])
