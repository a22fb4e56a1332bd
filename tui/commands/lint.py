"""``tugtest lint``: every fault and doubt of a procedure file, with its line."""

import argparse
import json
import sys
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(commands, "lint", "every fault and doubt of a procedure file", "tugtest lint my-job.toml")
    parser.add_argument(
        "files", nargs="*", metavar="PROCEDURE", help="procedure or block files, or names of procedures"
    )
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.add_argument(
        "--schema",
        nargs="?",
        const="procedure",
        choices=("procedure", "block"),
        help="print the JSON Schema of procedure files, or of block files, instead",
    )
    parser.add_argument("--dry-run", action="store_true", help="walk every branch, and say what each value would bring")
    common.add_procedures(parser)
    parser.set_defaults(run=run, takes="files")


def run(args: argparse.Namespace) -> int:
    """Lint the files; status 0 without a word, 1 with doubts, 2 with faults."""
    if args.schema:
        from engine.procedure.schema import schema_text

        print(schema_text(args.schema), end="")
        return 0
    from engine.inert import inert
    from engine.procedure.block_alone import is_block, lint_block
    from engine.procedure.lint import lint
    from engine.session.lint_orders import order_offences
    from engine.shipped import find

    paths = [common.plain_file(Path(name)) if name.endswith(".toml") else find(name) for name in args.files]
    if not paths:
        raise common.NotUsable("name a procedure file, such as: tugtest lint my-job.toml")
    if args.dry_run:
        return max(_dry_run(path) for path in paths)
    reports = [lint_block(path) if is_block(path) else lint(path, order_offences) for path in paths]
    if args.json:
        print(json.dumps([report.to_json() for report in reports], indent=2, ensure_ascii=True))
    else:
        for report in reports:
            print(inert("\n".join(report.lines())))
    return max(report.status for report in reports)


def _dry_run(path: Path) -> int:
    """Walk a procedure; status 1 if a way through it ends dead, or the plain one goes past a fail."""
    from engine.procedure.load import load
    from engine.session.dry_run import dry_lines, dry_run, status
    from tui.inert import one_line

    shown = sys.stderr.isatty()

    def tell(walked: int, known: int) -> None:
        if shown:
            print(f"\r{walked} of {known} ways", end="\n" if walked == known else "", file=sys.stderr, flush=True)

    walks = dry_run(load(path), tell)
    print("\n".join(one_line(line) for line in dry_lines(walks)))
    return status(walks)
