"""``tugtest completion``: a line for a shell, which then completes commands and names of procedures."""

import argparse

from tui.commands import common

SHELLS = {
    "bash": 'complete -o default -W "{}" tugtest',
    "zsh": 'autoload -U bashcompinit; bashcompinit; complete -o default -W "{}" tugtest',
    "fish": 'complete -c tugtest -a "{}"',
}


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands, "completion", "a line for your shell's start file, to complete names", "tugtest completion bash"
    )
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help=" or ".join(SHELLS))
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the line."""
    from engine.shipped import known
    from tui.cli import COMMANDS

    print(SHELLS[args.shell].format(" ".join([*COMMANDS, *known()])))
    return 0
