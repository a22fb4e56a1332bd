"""``tugtest keys``: the key map of the screens, in the form of the file that changes it."""

import argparse

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    common.new(commands, "keys", "the keys of the screens, and how to change them", "tugtest keys").set_defaults(
        run=run
    )


def run(args: argparse.Namespace) -> int:
    """Print the key map."""
    from tui.keys import key_map_text

    print(key_map_text())
    return 0
