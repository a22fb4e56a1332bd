"""``tugtest check``: one rule of the trade on its own."""

import argparse
import json
import sys
from typing import TYPE_CHECKING

from tui.commands import common

if TYPE_CHECKING:
    from engine.finding import Value


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "check",
        "one rule of the trade on its own; alone it lists them",
        'tugtest check voltage-drop load="48 A" size="8 AWG" out="5.2 m" back="5.2 m" nominal="24 V" class=bow-motor',
    )
    parser.add_argument("name", nargs="?", metavar="NAME", help="a check; without inputs it explains itself")
    parser.add_argument("inputs", nargs="*", metavar="input=value", help="its inputs; several values are parted by ;")
    parser.add_argument("--profile", default="industry", help="rules: industry, federal or house")
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.set_defaults(run=run, takes="inputs")


def run(args: argparse.Namespace) -> int:
    """List, explain or run a check; status 0 if it passes, 1 if not, 2 for an input that cannot be used."""
    from engine.rules.ask import describe, from_text, listing
    from engine.rules.registry import check

    if args.name is None:
        print(listing())
        return 0
    asked = check(args.name)
    if not args.inputs:
        print(describe(asked))
        return 0
    wrong = [text for text in args.inputs if "=" not in text]
    if wrong:
        print(f'"{wrong[0]}" should be input=value, such as load="48 A"', file=sys.stderr)
        return 2
    given = from_text(asked, dict(text.split("=", 1) for text in args.inputs))
    if isinstance(given, list):
        print("\n".join(given), file=sys.stderr)
        return 2
    return _judge(args, given)


def _judge(args: argparse.Namespace, given: "dict[str, Value]") -> int:
    from engine.published.profiles import profile
    from engine.rules.check import Context
    from engine.rules.registry import run as run_check
    from engine.view.verdicts import verdict_view
    from tui.plain.verdict import verdict_lines

    finding = run_check(args.name, given, Context(profile(args.profile)))
    if args.json:
        print(json.dumps(finding.to_json(), indent=2, ensure_ascii=True))
    else:
        print("\n".join(verdict_lines(verdict_view(finding.check, finding), full=True)))
    return 0 if finding.verdict == "pass" else 1
