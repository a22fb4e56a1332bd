"""``tugtest home`` (and ``tugtest`` alone): what can be done."""

import argparse

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "home", "what can be done: go on, start, read", "tugtest")
    common.add_folder(parser)
    common.add_plain(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Show the first screen."""
    if not common.is_plain(args):
        from tui.app import TugtestApp

        app = TugtestApp(None, None, args.folder)
        app.run()
        return app.return_code or 0
    from tui.plain.home import home_lines

    print("\n".join(home_lines(common.only_folder(args))))
    return 0
