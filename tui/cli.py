"""The command ``tugtest``: reads the command line, and turns every refusal into one sentence and an exit status."""

import argparse
import io
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

COMMANDS = (
    "home", "list", "start", "resume", "demo", "plan", "check", "new", "blocks", "lint", "audit", "review", "page",
    "export", "due", "pack", "keys", "completion",
)  # fmt: skip
"""The commands, in the order of the help; each is a module of ``tui.commands``."""

GOOD, FINDINGS, BAD = 0, 1, 2
"""Exit statuses: good; findings or doubts; bad input, or a file that cannot be read or trusted."""

TRACE = "TUGTEST_TRACE"
"""Environment variable: set, it shows where in the program a mistake of ours happened."""


class Parser(argparse.ArgumentParser):
    """Says what is wrong with a command line in one sentence, and where the help is."""

    def error(self, message: str) -> NoReturn:
        """Say it and leave."""
        sys.exit(_say(f"{self.prog}: {message}; see {self.prog} --help"))


def main(argv: Sequence[str] | None = None) -> int:
    """Carry out one command line and return its exit status."""
    given = _whole(list(sys.argv[1:] if argv is None else argv))
    _open_what_is_closed()
    _take_any_sign()
    try:
        if sentence := _unknown(given[0]):
            return _say(sentence)
        args = _parsed(given)
        if getattr(args, "procedures", None):
            from engine.shipped import OWN  # local: hardly any command line names a folder

            os.environ[OWN] = str(args.procedures)
        status = int(args.run(args))
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except KeyboardInterrupt:
        return _say("broken off; what was recorded is on the disk")
    except Exception as problem:
        if os.environ.get(TRACE):
            raise
        return _say(_sentence(problem))


def parser(names: Sequence[str] = COMMANDS) -> argparse.ArgumentParser:
    """Return the parser of the whole command line, or of some commands: only their modules are imported."""
    whole = Parser(
        prog="tugtest",
        description="A guided install checklist for larger low-voltage DC loads on boats and trailers.",
        epilog="Example: tugtest demo. Exit status: 0 good, 1 findings, 2 bad input or a file not to be trusted.",
    )
    whole.add_argument("-V", "--version", action="version", version=_version())
    commands = whole.add_subparsers(metavar="COMMAND", title="commands")
    for name in names:
        module = import_module(f"tui.commands.{name}")
        module.add(commands)
    return whole


def _parsed(given: list[str]) -> argparse.Namespace:
    """Return the parsed command line. Names may also stand after options, as in: check NAME --json input=value."""
    whole = parser([given[0]] if given[0] in COMMANDS else COMMANDS)
    args, rest = whole.parse_known_args(given)
    takes = getattr(args, "takes", "")
    if unknown := [word for word in rest if word.startswith("-") or not takes]:
        sys.exit(_say(f"tugtest {given[0]}: {unknown[0]} is not known here; see tugtest {given[0]} --help"))
    if takes:
        setattr(args, takes, [*getattr(args, takes), *rest])
    return args


def _version() -> str:
    from engine import __version__

    return f"tugtest {__version__}"


def _whole(given: list[str]) -> list[str]:
    """Return the command line with its command: options alone are those of the first screen."""
    if not given or (given[0].startswith("-") and given[0] not in ("-h", "--help", "-V", "--version")):
        return ["home", *given]
    return given


def _unknown(word: str) -> str:
    """Return what is wrong with the name of a command; empty if it is one, or an option."""
    if word in COMMANDS or word.startswith("-"):
        return ""
    from engine.nearest import nearest  # lazy: hardly any command line is refused

    hint = nearest(word, COMMANDS, f"the commands are {', '.join(COMMANDS)}")
    return f'tugtest: "{word[:40]}" is no command; {hint}'


def _sentence(problem: Exception) -> str:
    """Return a refusal in its own words; a mistake of ours with where it happened."""
    if isinstance(problem, OSError) and problem.strerror:
        return f"{problem.filename}: {problem.strerror}" if problem.filename else problem.strerror
    if type(problem).__module__.startswith(("engine.", "tui.")):
        return str(problem)
    at = problem.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    where = f"{os.path.basename(at.tb_frame.f_code.co_filename)}, line {at.tb_lineno}" if at else "unknown"  # noqa: PTH119
    return (
        f"the program made a mistake ({type(problem).__name__}: {problem}; {where}); "
        f"what was recorded is on the disk; with {TRACE}=1 it shows where"
    )


def _open_what_is_closed() -> None:
    """Give the program a stream for each that it was started without: nothing comes from it, and nothing is kept."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: PTH123, SIM115 - as long as we run


def _take_any_sign() -> None:
    """Let no sign end the program: what the terminal cannot show is written out, what is no text is refused later."""
    for stream, errors in ((sys.stdin, "surrogateescape"), (sys.stdout, "backslashreplace")):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=errors)


def _say(sentence: str) -> int:
    """Say why something cannot be done, in signs that no file or argument can use to move or colour the terminal."""
    from engine.inert import inert  # local: most command lines refuse nothing

    print(inert(sentence), file=sys.stderr)
    return BAD


if __name__ == "__main__":
    sys.exit(main())
