"""One step for the eye, in reading order: place, warnings, action, why, values, verdicts, what is left."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import ConnectorView, Hold, Procedure, Step, Warn
from engine.procedure.model_circuit import PLAN
from engine.session.boat import OtherJob
from engine.session.decide_step import wanting
from engine.session.decide_work import LEFT, by_now
from engine.session.gates import applicable, fresh, shut, stands
from engine.session.judge import judge
from engine.session.standing import standing
from engine.session.state import State
from engine.session.where_lost import where_lost
from engine.session.work import STILL_DEAD, ended_by, in_doubt
from engine.view.models import (
    ConnectorPicture,
    EntryRow,
    HaltView,
    PartRow,
    PlanView,
    PositionRow,
    Shut,
    StepView,
    VerdictView,
    WarnView,
)
from engine.view.offers import with_offers
from engine.view.plan import plan_view
from engine.view.values import row, rows
from engine.view.verdicts import step_verdicts, verdict_view
from engine.view.words import sentences
from engine.view.zones import step_zones


def step_view(
    procedure: Procedure, state: State, step_id: str, now: datetime, beside: Callable[[], Iterable[OtherJob]] = tuple
) -> StepView:
    """Return the view of one step as the session stands at ``now`` (aware, UTC): a gap until then counts already.

    ``beside`` gives the other jobs open on this boat; it is asked only where the step has to do with them.
    """
    state = by_now(procedure, state, now)
    step = procedure.step_by_id[step_id]
    steps = applicable(procedure, state)
    number = next((n for n, s in enumerate(steps, start=1) if s.id == step_id), 0)
    findings = judge(procedure, state, step)
    needs = tuple(need for need in shut(procedure, state, step, now) if need.step != step_id)
    doubted = in_doubt(procedure, state, step) if not needs and step_id not in state.done else ()
    wants = _wants(procedure, state, step, findings, now)
    done = step_id in state.done
    view = StepView(
        id=step.id,
        number=number,
        total=len(steps),
        section=_section(procedure, step),
        title=step.title,
        place=place(procedure, state, step, number, steps),
        demo=state.demo,
        asset=state.asset,
        hold=str(step.hold),
        status=_status(procedure, state, step, now, shut_now=bool(needs)),
        warnings=tuple(_warning(w) for w in step.warnings),
        action=step.action,
        why=step.why,
        rows=_rows(procedure, state, step, now),
        parts=_parts(state, step),
        verdicts=_verdicts(procedure, state, step, findings),
        connector=_connector(step.view) if step.view else None,
        plan=_plan(procedure, state, step),
        shut=tuple(Shut(n.sentence, n.step) for n in needs),
        ready=not needs and not wants and not done,
        wants=wants,
        halt=HaltView(state.halted.sentence, sentences(state.halted.hands)) if state.halted else None,
        mends=tuple(mend.says for mend in step.mends),
        beside=tuple(job.sentence for job in beside()) if number == 1 or step.feeds or step.hands_on else (),
        zones=step_zones(procedure, state, step, now),
        gone=_gone(procedure, state, step, now),
        stop_if=step.stop_if,
        irreversible=step.irreversible,
        left_to_do=tuple(state.items.values()),
        previous=previous_step(procedure, state, step_id) or "",
    )
    return _asking_again(view, state, doubted) if doubted else view


def _rows(procedure: Procedure, state: State, step: Step, now: datetime) -> tuple[EntryRow, ...]:
    return with_offers(procedure, state, rows(procedure, state, step), now)


def _asking_again(view: StepView, state: State, zones: tuple[str, ...]) -> StepView:
    """Return a step after a gap: nothing but the question whether it is still dead where hands go."""
    asked = replace(row(STILL_DEAD, state), hint=f"V; or the word {LEFT}, if nobody stayed with it", why="", skip=())
    return replace(
        view,
        action=f"Hands off {' and '.join(zones)} until you have measured there once more.",
        why=f"Nothing was entered for {state.doubt}. {STILL_DEAD.why}",
        rows=(asked,),
        warnings=(),
        verdicts=(),
        stop_if=(),
        irreversible="",
        parts=(),
        connector=None,
        ready=False,
    )


def _verdicts(procedure: Procedure, state: State, step: Step, findings: dict[str, Finding]) -> tuple[VerdictView, ...]:
    lost = where_lost(procedure, state, step)
    told = () if lost is None else (replace(verdict_view(lost.check, lost), needs=""),)
    return (*step_verdicts(state, step, findings), *told)


def _section(procedure: Procedure, step: Step) -> str:
    return next((s.title for s in procedure.sections if s.id == step.section), step.section)


def place(procedure: Procedure, state: State, step: Step, number: int, steps: tuple[Step, ...]) -> str:
    """Return the place line: step n of N, section, next hold, what is left to do."""
    holds = [
        n for n, s in enumerate(steps, start=1) if s.hold is not Hold.NONE and n > number and s.id not in state.done
    ]
    if step.hold is not Hold.NONE:
        hold = "hold point" if step.hold is Hold.HOLD else "firm hold point"
    else:
        hold = f"next hold in {holds[0] - number}" if holds else "no hold ahead"
    left = f" - {len(state.items)} left to do" if state.items else ""
    return f"Step {number} of {len(steps)} - {_section(procedure, step)} - {hold}{left}"


def previous_step(procedure: Procedure, state: State, step_id: str) -> str | None:
    """Return the step before this one in working order, or None at the first."""
    ids = [s.id for s in applicable(procedure, state)]
    at = ids.index(step_id) if step_id in ids else 0
    return ids[at - 1] if at else None


def next_step(procedure: Procedure, state: State, step_id: str) -> str | None:
    """Return the step after this one in working order, or None at the last."""
    ids = [s.id for s in applicable(procedure, state)]
    at = ids.index(step_id) if step_id in ids else len(ids)
    return ids[at + 1] if at + 1 < len(ids) else None


def _status(procedure: Procedure, state: State, step: Step, now: datetime, *, shut_now: bool) -> str:
    if step.id in state.done:
        return "done" if stands(procedure, state, step.id, now) else "ended"
    return "shut" if shut_now else "open"


def _gone(procedure: Procedure, state: State, step: Step, now: datetime) -> str:
    done = state.done.get(step.id)
    if done is None or stands(procedure, state, step.id, now):
        return ""
    why = f"ended by {ended_by(procedure, done.ended)}" if done.ended else "its readings are too old by now"
    return f"This was done, and holds no longer: {why}. Do it again"


def _wants(procedure: Procedure, state: State, step: Step, findings: dict[str, Finding], now: datetime) -> str:
    if step.id not in state.rejudged and not fresh(step, state, now):
        return "these readings are too old by now; do the step again"
    refusal = wanting(procedure, state, step, findings)
    return refusal.sentence if refusal else ""


def _warning(warn: Warn) -> WarnView:
    return WarnView(str(warn.word), " ".join(x for x in (warn.hazard, warn.avoid, warn.consequence) if x))


def _parts(state: State, step: Step) -> tuple[PartRow, ...]:
    named = state.named.get(step.id, ())
    return tuple(PartRow(p.id, p.name, p.facing, p.id in named) for p in step.parts)


def _connector(view: ConnectorView) -> ConnectorPicture:
    positions = tuple(
        PositionRow(p.number, p.where, p.carries, f"position {p.number}, {p.where}: {p.carries}")
        for p in view.positions
    )
    return ConnectorPicture(view.title, f"seen from {view.seen_from}", positions)


def _plan(procedure: Procedure, state: State, step: Step) -> PlanView | None:
    if not any(check.name == PLAN for check in step.checks):
        return None
    return plan_view(procedure, standing(procedure, state), state.profile or procedure.profile)
