"""The findings of one step from what was given so far: named checks, written limits, and the plan of the circuit."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from engine.finding import Finding, Value, Verdict
from engine.plan.plan import make_plan, planned_figures
from engine.procedure.model import FromPlan, Operand, Procedure, Reference, Step, StepCheck, StepLimit
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.registry import run
from engine.session.state import State
from engine.trade.ranges import OutOfRange

PLAN = "plan"
"""The name under which a step asks for the verdict on the whole circuit."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the entries: their values, and which were said to be not measured."""

    values: Mapping[str, Value]
    absent: frozenset[str]

    def settled(self, entry: str, procedure: Procedure) -> bool:
        """True if the entry was given, was said to be not measured, or does not apply to this job."""
        if entry in self.values or entry in self.absent:
            return True
        when = procedure.entry_by_id[entry].when
        step = procedure.step_by_id[procedure.step_of_entry[entry]]
        outside = step.when is not None and step.when.holds(self.values) is not True
        return outside or (when is not None and when.holds(self.values) is not True)


def judge(
    procedure: Procedure, state: State, step: Step, extra: Mapping[str, Value] | None = None
) -> dict[str, Finding]:
    """Return the findings of ``step`` by key, only those whose inputs are all settled.

    ``extra`` are values that are not recorded yet (an entry while it is typed).
    """
    known = Known(state.values() | dict(extra or {}), frozenset(state.absent) - frozenset(extra or {}))
    context = Context(profile(state.profile or procedure.profile))
    found: dict[str, Finding] = {}
    for check in step.checks:
        if _ready(procedure, check, known):
            finding = _judge_check(procedure, state, check, known, context)
            found[_free_key(found, check.name)] = finding
    for number, limit in enumerate(step.limits, start=1):
        if all(known.settled(name, procedure) for name in limit.expression.names):
            found[f"limit {number}"] = _judge_limit(limit, known, context)
    return found


def _ready(procedure: Procedure, check: StepCheck, known: Known) -> bool:
    if check.when is not None and check.when.holds(known.values) is not True:
        return False
    return all(known.settled(name, procedure) for name in _used(procedure, check))


def check_entries(check: StepCheck) -> frozenset[str]:
    """Return the ids of the entries that a check uses."""
    return _ids(check.inputs.values())


def plan_entries(procedure: Procedure) -> frozenset[str]:
    """Return the ids of the entries that the plan of the circuit uses."""
    operands = [o for part in procedure.circuit for o in (*part.found.values(), *part.planned.values())]
    return _ids(operands)


def _ids(operands: Iterable[Operand]) -> frozenset[str]:
    return frozenset(i for operand in operands if isinstance(operand, Reference) for i in operand.ids)


def uses(procedure: Procedure, step: Step, entry: str) -> bool:
    """Return whether a finding of ``step`` depends on ``entry``."""
    names = set[str]()
    for check in step.checks:
        names |= _used(procedure, check)
    for limit in step.limits:
        names |= limit.expression.names
    return entry in names


def _used(procedure: Procedure, check: StepCheck) -> frozenset[str]:
    planned = check.name == PLAN or any(isinstance(o, FromPlan) for o in check.inputs.values())
    return check_entries(check) | (plan_entries(procedure) if planned else frozenset())


def operand_value(operand: Operand, known: Known, procedure: Procedure, profile_name: str) -> Value:
    """Return the value of an operand; None if it, or one of its list, was not measured."""
    if isinstance(operand, FromPlan):
        return planned_figures(procedure, known.values, profile_name).get(operand.figure)
    if not isinstance(operand, Reference):
        return operand.value
    if not operand.many:
        return known.values.get(operand.ids[0])
    if any(i in known.absent for i in operand.ids):
        return None
    return tuple(known.values[i] for i in operand.ids if i in known.values) or None


def _judge_check(procedure: Procedure, state: State, check: StepCheck, known: Known, context: Context) -> Finding:
    try:
        return _run(procedure, state, check, known, context)
    except OutOfRange as problem:
        return Finding(check.name, Verdict.UNDECIDED, str(problem), profile=context.profile.name)


def _run(procedure: Procedure, state: State, check: StepCheck, known: Known, context: Context) -> Finding:
    if check.name == PLAN:
        return make_plan(procedure, known.values, context.profile.name).as_finding()
    given = {
        name: operand_value(operand, known, procedure, context.profile.name) for name, operand in check.inputs.items()
    }
    return run(check.name, given, Context(context.profile, _accuracy(procedure, state, check)))


def _accuracy(procedure: Procedure, state: State, check: StepCheck) -> dict[str, Accuracy]:
    declared = dict[str, Accuracy]()
    for name, operand in check.inputs.items():
        if not isinstance(operand, Reference):
            continue
        instrument = state.instruments.get(procedure.entry_by_id[operand.ids[0]].instrument)
        if instrument is not None:
            declared[name] = Accuracy(instrument.percent, instrument.counts, instrument.resolution)
    return declared


def _judge_limit(limit: StepLimit, known: Known, context: Context) -> Finding:
    holds = limit.expression.holds(known.values)
    verdict = Verdict.MISSING if holds is None else Verdict.PASS if holds else limit.otherwise
    return Finding(
        "limit",
        verdict,
        _limit_sentence(limit, verdict, known),
        working=limit.expression.text,
        sources=(limit.source,),
        profile=f"{context.profile.name} {context.profile.version}",
        inputs={name: known.values.get(name) for name in sorted(limit.expression.names)},
    )


def _limit_sentence(limit: StepLimit, verdict: Verdict, known: Known) -> str:
    if verdict is Verdict.MISSING:
        return f"not measured: {limit.says}"
    wanted = limit.says if verdict is Verdict.PASS else f"wanted: {limit.says}"
    figures = any(isinstance(known.values.get(n), float) for n in limit.expression.names)
    return f"{wanted} ({limit.expression.says(known.values)})" if figures else wanted


def _free_key(found: Mapping[str, Finding], name: str) -> str:
    number = 2
    key = name
    while key in found:
        key, number = f"{name} {number}", number + 1
    return key
