"""The plan for the eye: the chain as found and as planned, the voltage ladder, the what-if table, what to buy."""

from collections.abc import Mapping

from engine.finding import Value
from engine.plan.circuit import Part
from engine.plan.judged import Judged, JudgedPart
from engine.plan.plan import Plan, make_plan, side_sentence, weakest_words
from engine.plan.what_if import Row
from engine.procedure.model import PartKind, Procedure
from engine.quantity import show
from engine.view.models import ChainPart, PlanView, Rung, WhatIf
from engine.view.verdicts import label, verdict_view

FIGURES: Mapping[PartKind, tuple[tuple[str, str], ...]] = {
    PartKind.BANK: (("nominal", "V"),),
    PartKind.PROTECTION: (("fitted", "A"),),
    PartKind.WIRE: (("size", ""), ("out", "m"), ("back", "m")),
    PartKind.JOINT: (("resistance", "mohm"),),
    PartKind.RECEPTACLE: (("rating", "A"),),
    PartKind.PLUG: (("rating", "A"),),
    PartKind.SWITCH: (("rating", "A"),),
    PartKind.LOAD: (("current", "A"), ("nominal", "V")),
}
"""Which figures say a part in short, by its kind."""


def plan_view(procedure: Procedure, values: Mapping[str, Value], profile_name: str) -> PlanView:
    """Return the plan for the facts given so far."""
    return view_of(make_plan(procedure, values, profile_name))


def view_of(plan: Plan) -> PlanView:
    """Return a plan as every face shows it."""
    weak = plan.planned.weakest
    return PlanView(
        found_sentence=side_sentence(plan.found, "as found"),
        planned_sentence=side_sentence(plan.planned, "as planned"),
        weakest=weakest_words(weak) if weak else "",
        remedy=plan.remedy,
        remedies=plan.remedies,
        chain=tuple(_chain(f, p) for f, p in zip(plan.found.parts, plan.planned.parts, strict=True)),
        ladder=ladder(plan.planned),
        what_if=tuple(_what_if(r, plan) for r in plan.what_if()),
        buy=plan.buy,
        found_label=label(plan.found.verdict),
        planned_label=label(plan.planned.verdict),
        missing=tuple(f.sentence for p in plan.planned.parts for f in p.findings if f.verdict == "missing"),
    )


def _chain(found: JudgedPart, planned: JudgedPart) -> ChainPart:
    return ChainPart(
        id=planned.part.id,
        kind=str(planned.part.kind),
        name=planned.part.name,
        found=figures(found.part),
        found_label=label(found.verdict) if found.findings else "",
        planned=figures(planned.part),
        planned_label=label(planned.verdict) if planned.findings else "",
        findings=tuple(verdict_view(f.check, f) for f in planned.findings),
    )


def figures(part: Part) -> str:
    """Return a part's figures in short: ``8 AWG, 5.2 m out, 5.2 m back``."""
    words = []
    for name, unit in FIGURES[part.kind]:
        value = part.figures.get(name)
        if isinstance(value, str):
            words.append(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            words.append(f"{show(float(value), unit, both=False)}{f' {name}' if name in ('out', 'back') else ''}")
    return ", ".join(words)


def ladder(judged: Judged) -> tuple[Rung, ...]:
    """Return the volts at full load after each part, from the nominal volts of the bank to the load."""
    nominal = judged.circuit.shared("nominal")
    load = judged.circuit.shared("current")
    if not isinstance(nominal, int | float) or not isinstance(load, int | float):
        return ()
    volts, rungs = float(nominal), []
    for part in judged.parts:
        drop_v = _own_drop_v(part, float(load))
        volts -= drop_v
        lost = float(nominal) - volts
        allowed_v = 0.03 * float(nominal)
        text = f"{volts:.2f} V" + (f", {drop_v:.2f} V lost here" if drop_v else "")
        rungs.append(Rung(part.part.name, volts, lost / allowed_v, text))
    return tuple(rungs)


def _own_drop_v(judged: JudgedPart, load_a: float) -> float:
    if judged.part.kind is PartKind.WIRE:
        drop = judged.finding("voltage-drop")
        loop, extra = (drop.values.get("loop_ohm"), drop.inputs.get("extra")) if drop else (None, None)
        return (
            load_a * (float(loop) - (float(extra) if isinstance(extra, int | float) else 0.0))
            if isinstance(loop, int | float)
            else 0.0
        )
    return load_a * (judged.part.number("resistance") or 0.0)


def _what_if(row: Row, plan: Plan) -> WhatIf:
    chosen = any(p.part.word("size") == row.size for p in plan.planned.parts)
    return WhatIf(
        size=row.size,
        drop=f"{row.drop_percent:.2f} %",
        hot="-" if row.hot_drop_percent is None else f"{row.hot_drop_percent:.2f} %",
        allowable="-" if row.allowable_a is None else f"{row.allowable_a:.0f} A",
        copper=f"{row.copper_kg:.2f} kg",
        label=label(row.verdict),
        chosen=chosen,
    )
