"""The plan for the eye: the chain as found and as planned, the voltage ladder, the what-if table, what to buy."""

from collections.abc import Mapping

from engine.finding import Value
from engine.plan.judged import Judged, JudgedPart
from engine.plan.plan import Plan, make_plan, side_sentence, weakest_words
from engine.plan.told import VoltsAfter, figures, most_drop_v, volts_along
from engine.plan.what_if import Row
from engine.procedure.model import Procedure
from engine.view.models import ChainPart, PlanView, Rung, WhatIf
from engine.view.verdicts import label, verdict_view


def plan_view(procedure: Procedure, values: Mapping[str, Value], profile_name: str) -> PlanView:
    """Return the plan for the facts given so far."""
    return view_of(make_plan(procedure, values, profile_name))


def view_of(plan: Plan) -> PlanView:
    """Return a plan as every face shows it."""
    weak = plan.planned.weakest
    return PlanView(
        found_sentence=side_sentence(plan.found, "as found"),
        planned_sentence=side_sentence(plan.planned, "as planned", every=True),
        weakest=weakest_words(weak) if weak and weak.verdict == "pass" else "",
        remedy=plan.remedy,
        remedies=plan.remedies,
        chain=tuple(_chain(f, p) for f, p in zip(plan.found.parts, plan.planned.parts, strict=True)),
        ladder=ladder(plan.planned),
        ladder_v=most_drop_v(plan.planned),
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
    nominal_v, most_v = judged.circuit.number("nominal"), most_drop_v(judged)
    if nominal_v is None or most_v is None:
        return ()
    return tuple(_rung(after, nominal_v, most_v) for after in volts_along(judged))


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
