"""The plan for the eye: the chain as found and as planned, the voltage ladder, the what-if table, what to buy."""

from collections.abc import Mapping

from engine.finding import Value
from engine.plan.judged import Judged, JudgedPart
from engine.plan.plan import Plan, make_plan, side_sentence, weakest_words
from engine.plan.told import VoltsAfter, figures, volts_along
from engine.plan.what_if import Row
from engine.procedure.model import Procedure
from engine.view.models import ChainPart, PlanView, Rung, WhatIf
from engine.view.verdicts import label, verdict_view

CRITICAL_PERCENT = 3.0
"""Drop of a critical circuit [%]. Source: ABYC E-11, voltage drop classes, as quoted."""


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
        ladder_percent=allowed_percent(plan.planned),
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


def ladder(judged: Judged) -> tuple[Rung, ...]:
    """Return the volts at full load after each part, from the nominal volts of the bank to the load."""
    nominal = judged.circuit.shared("nominal")
    if not isinstance(nominal, int | float):
        return ()
    allowed_v = float(nominal) * allowed_percent(judged) / 100
    return tuple(_rung(after, float(nominal), allowed_v) for after in volts_along(judged))


def allowed_percent(judged: Judged) -> float:
    """Return the drop up to which the run passes [%], as its own finding has it; 3 where none was made."""
    drops = [f for p in judged.parts for f in p.findings if f.check == "voltage-drop" and f.limits]
    return drops[0].limits[0].value if drops else CRITICAL_PERCENT


def _rung(after: VoltsAfter, nominal_v: float, allowed_v: float) -> Rung:
    text = f"{after.volts_v:.2f} V" + (f", {after.lost_v:.2f} V lost here" if after.lost_v else "")
    return Rung(after.name, after.volts_v, (nominal_v - after.volts_v) / allowed_v, text)


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
