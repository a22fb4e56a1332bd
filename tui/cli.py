"""The command ``tugtest``: reads the command line, and turns every refusal into one sentence and an exit status."""

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module

COMMANDS = ("home", "list", "start", "resume", "demo", "plan", "check", "lint", "audit", "keys")
"""The commands, in the order of the help; each is a module of ``tui.commands``."""

GOOD, FINDINGS, BAD = 0, 1, 2
"""Exit statuses: good; findings or doubts; bad input, or a file that cannot be read or trusted."""


def main(argv: Sequence[str] | None = None) -> int:
    """Carry out one command line and return its exit status."""
    given = list(sys.argv[1:] if argv is None else argv)
    try:
        args = _parser().parse_args(given or ["home"])
        status = int(args.run(args))
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except KeyboardInterrupt:
        return _say("interrupted; what was recorded is on the disk")
    except Exception as problem:
        if not _is_known(problem):
            raise
        return _say(str(problem))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tugtest",
        description="A guided install checklist for larger low-voltage DC loads on boats and trailers.",
        epilog="Example: tugtest demo. Exit status: 0 good, 1 findings, 2 bad input or a file not to be trusted.",
    )
    parser.add_argument("--version", action="version", version=_version())
    commands = parser.add_subparsers(metavar="COMMAND", title="commands")
    for name in COMMANDS:
        module = import_module(f"tui.commands.{name}")
        module.add(commands)
    return parser


def _version() -> str:
    from engine import __version__

    return f"tugtest {__version__}"


def _is_known(problem: Exception) -> bool:
    """Return whether this is a refusal in a sentence, and not a mistake of ours."""
    return isinstance(problem, OSError | ValueError | LookupError) or type(problem).__module__.startswith("engine.")


def _say(sentence: str) -> int:
    print(sentence, file=sys.stderr)
    return BAD


if __name__ == "__main__":
    sys.exit(main())
