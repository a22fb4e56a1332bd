"""``tugtest plan``: the verdict on the whole circuit from the facts of an answers file, without a session."""

import argparse
import json
from pathlib import Path

from tui.commands import common


def add(commands: "common.Commands[argparse.ArgumentParser]") -> None:
    """Add the command."""
    parser = common.new(
        commands,
        "plan",
        "the verdict on the whole circuit, without a session",
        "tugtest plan bow-receptacle --answers grey-heron-facts",
    )
    parser.add_argument("procedure", metavar="PROCEDURE", help="name of a procedure, or a file")
    parser.add_argument("--answers", type=Path, required=True, metavar="FILE", help="answers file with the facts")
    parser.add_argument("--profile", default="", help="rules: industry, federal or house")
    parser.add_argument("--compare", action="store_true", help="where the rule profiles differ")
    parser.add_argument("--json", action="store_true", help="as JSON")
    common.add_procedures(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the plan; status 0 if the planned circuit passes, 1 if not."""
    from engine.plan.plan import make_plan
    from engine.procedure.load import load
    from engine.session.answers import facts_of, load_answers
    from engine.shipped import find, sample

    file = common.plain_file(sample(args.answers, ".answers.toml"))
    procedure, answers = load(find(args.procedure)), load_answers(file)
    if answers.procedure != procedure.id:
        raise common.NotUsable(f'{file.name}: is for "{answers.procedure}", not for "{procedure.id}"')
    values = facts_of(procedure, answers)
    name = args.profile or answers.start.profile or procedure.profile
    plan = make_plan(procedure, values, name)
    if args.json:
        print(json.dumps(plan.to_json(), indent=2, ensure_ascii=True))
    elif args.compare:
        from engine.view.compare import compare_lines

        print("\n".join(compare_lines(procedure, values)))
    else:
        from engine.view.plan import view_of
        from tui.plain.plan import plan_lines

        print("\n".join(plan_lines(view_of(plan))))
    return 0 if plan.verdict == "pass" else 1
