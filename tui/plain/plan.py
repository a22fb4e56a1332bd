"""The plan as lines of plain text: both sides, part by part, the weakest, what to buy, other sizes, the volts."""

from engine.view.models import ChainPart, PlanView, VerdictView, WhatIf
from tui.plain.text import item, listed, wrapped


def short_plan_lines(plan: PlanView) -> list[str]:
    """Return what the plan's step shows: both sentences, each part, the weakest, the remedy, the first thing to buy."""
    more = f", and {len(plan.buy) - 1} more" if len(plan.buy) > 1 else ""
    return [
        *_sentences(plan),
        *(line for part in plan.chain for line in item(_part(part))),
        *_ends(plan),
        *(wrapped(f"Buy: {plan.buy[0]}{more}", hang=2) if plan.buy else []),
        "All of it, with other sizes and the volts: .plan",
    ]


def plan_lines(plan: PlanView) -> list[str]:
    """Return the whole plan, with every finding."""
    parts = [line for part in plan.chain for line in (*item(_part(part)), *_findings(part))]
    return [
        *_sentences(plan),
        *parts,
        *_ends(plan),
        *(line for text in plan.remedies[1:] for line in wrapped(f"Then: {text}", hang=2)),
        *listed("To buy", plan.buy),
        *listed("The same run in other sizes", (_size(row) for row in plan.what_if)),
        *listed("Volts after each part, at full load", (f"{rung.name}: {rung.text}" for rung in plan.ladder)),
    ]


def _sentences(plan: PlanView) -> list[str]:
    both = ((plan.found_label, plan.found_sentence), (plan.planned_label, plan.planned_sentence))
    return [line for label, sentence in both for line in wrapped(f"{label} {sentence}", hang=2)]


def _ends(plan: PlanView) -> list[str]:
    named = (("Weakest", plan.weakest), ("Remedy", plan.remedy), *(("Missing", text) for text in plan.missing))
    return [line for name, text in named if text for line in wrapped(f"{name}: {text}", hang=2)]


def _part(part: ChainPart) -> str:
    found = f"{part.found} {part.found_label}".strip()
    planned = f"{part.planned} {part.planned_label}".strip()
    if found == planned:
        return f"{part.name}: {found or '-'}"
    return f"{part.name}: as found {found or '-'}; as planned {planned or '-'}"


def _findings(part: ChainPart) -> list[str]:
    return [f"  {line}" for each in part.findings for line in item(f"{each.label} {named(each)}")]


def named(finding: VerdictView) -> str:
    """Return a finding's sentence after the name of its check, unless the sentence begins with it."""
    name = finding.check.replace("-", " ")
    return finding.sentence if finding.sentence.startswith(name) else f"{name}: {finding.sentence}"


def _size(row: WhatIf) -> str:
    mark = ", the planned one" if row.chosen else ""
    warm = "" if row.hot == "-" else f", warm {row.hot}"
    return f"{row.size}{mark}: drop {row.drop}{warm}, carries {row.allowable}, {row.copper} of copper {row.label}"
