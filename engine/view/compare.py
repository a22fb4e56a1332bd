"""Where the rule profiles differ on one circuit: one line for each part that they do not judge alike."""

from collections.abc import Mapping

from engine.finding import Value
from engine.plan.plan import make_plan
from engine.procedure.model import Procedure
from engine.published.profiles import profile, profile_names
from engine.view.verdicts import label


def compare_lines(procedure: Procedure, values: Mapping[str, Value]) -> list[str]:
    """Return each finding that differs between the shipped profiles, profile by profile."""
    plans = {name: make_plan(procedure, values, name) for name in profile_names()}
    lines = [f"{name}: {profile(name).title}: {label(plan.verdict)}" for name, plan in plans.items()]
    first = next(iter(plans.values()))
    for number, part in enumerate(first.planned.parts):
        for check in [f.check for f in part.findings]:
            said = {name: plan.planned.parts[number].finding(check) for name, plan in plans.items()}
            if len({f.sentence for f in said.values() if f is not None}) > 1:
                lines += ["", f"{part.part.name}, {check}:"]
                lines += [f"  {name}: {label(f.verdict)} {f.sentence}" for name, f in said.items() if f is not None]
    same = len(lines) == len(plans)
    return [*lines, "", "no part is judged differently"] if same else lines
