"""The findings of one step from what was given so far: named checks, written limits, and the plan of the circuit."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from engine.finding import Finding, Value, Verdict
from engine.plan.plan import make_plan, planned_figures
from engine.procedure.model import Entry, Procedure, Step, StepLimit
from engine.procedure.model_circuit import PLAN, FromPlan, Literal, Operand, Reference, Since, StepCheck
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.given import about
from engine.rules.registry import at_once, run
from engine.rules.registry import check as named_check
from engine.session.standing import counting, missing, standing
from engine.session.state import Instrument, State
from engine.trade.ranges import OutOfRange


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the entries: the values that count, and which were said to be not measured, in ``state``."""

    values: Mapping[str, Value]
    absent: frozenset[str]
    state: State

    def lacks(self, names: frozenset[str], procedure: Procedure) -> Entry | None:
        """Return the first of ``names`` that is still to be given, or None."""
        return missing(procedure, self.values, self.absent, names)


def judge(
    procedure: Procedure, state: State, step: Step, extra: Mapping[str, Value] | None = None
) -> dict[str, Finding]:
    """Return the findings of ``step`` by key: those whose inputs are all settled, and what one value alone decides.

    ``extra`` are values that are not recorded yet (an entry while it is typed).
    """
    if not (step.checks or step.limits):
        return {}
    known = known_of(procedure, state, extra)
    context = Context(profile(state.profile or procedure.profile))
    instruments = state.done[step.id].instruments if step.id in state.done else state.instruments
    found: dict[str, Finding] = {}
    applying = [each for each in keyed(step) if each[1].when is None or each[1].when.holds(known.values) is True]
    for key, check in applying:
        if known.lacks(procedure.of_check(check), procedure) is None:
            finding: Finding | None = _judge_check(procedure, instruments, check, known, context)
        else:
            finding = _at_once(procedure, check, known, context)
        if finding is not None:
            found[key] = _named(procedure, finding, check, [other for _, other in applying])
    for number, limit in enumerate(step.limits, start=1):
        if known.lacks(limit.expression.names, procedure) is None:
            found[f"limit {number}"] = _judge_limit(limit, known, context)
    return found


def _named(procedure: Procedure, finding: Finding, check: StepCheck, applying: list[StepCheck]) -> Finding:
    """Return a finding that says which entry it is about, where its step has several checks of that name.

    A pass keeps its sentence: the values stand above it, and a small window is full.
    """
    if finding.verdict is Verdict.PASS:
        return finding
    others = [other for other in applying if other.name == check.name and other is not check]
    shared = {i for other in others for i in other.entries}
    ids = (i for operand in check.inputs.values() if isinstance(operand, Reference) for i in operand.ids)
    own = next((i for i in ids if i not in shared), None) if others else None
    return replace(finding, sentence=about(procedure.entry_by_id[own].ask, finding.sentence)) if own else finding


def known_of(procedure: Procedure, state: State, extra: Mapping[str, Value] | None = None) -> Known:
    """Return what is known in ``state``; ``extra`` are values that are not recorded yet."""
    if not extra:
        return Known(standing(procedure, state), frozenset(state.absent), state)
    return Known(counting(procedure, state.values() | dict(extra)), frozenset(state.absent) - frozenset(extra), state)


def keyed(step: Step) -> tuple[tuple[str, StepCheck], ...]:
    """Return the checks of a step with the key of each: its name, numbered if the step has several of that name."""
    if len(step.checks) < 2:
        return tuple((check.name, check) for check in step.checks)
    names = [check.name for check in step.checks]
    before = [names[:at].count(name) for at, name in enumerate(names)]
    return tuple((f"{c.name} {n + 1}" if n else c.name, c) for c, n in zip(step.checks, before, strict=True))


def unjudged(procedure: Procedure, state: State, step: Step) -> Entry | None:
    """Return the entry, of any step, without which ``step`` cannot be judged yet, or None.

    It is used by a check or limit, or decides whether one of the step's own entries is asked.
    """
    known = known_of(procedure, state)
    asked = procedure.entries_of(step)
    names = [e.when.names for e in asked if e.when is not None and e.when.holds(known.values) is None]
    names += [_needed_names(procedure, check, known) for check in step.checks]
    names += [limit.expression.names for limit in step.limits]
    return next((entry for each in names if (entry := known.lacks(each, procedure)) is not None), None)


def _needed_names(procedure: Procedure, check: StepCheck, known: Known) -> frozenset[str]:
    holds = True if check.when is None else check.when.holds(known.values)
    if holds is None and check.when is not None:
        return check.when.names
    return procedure.of_check(check) if holds else frozenset()


def can_hurt(step: Step) -> bool:
    """Return whether a finding of ``step`` can say STOP."""
    named = (named_check(check.name) for check in step.checks if check.name != PLAN)
    return any(limit.hands for limit in step.limits) or any(check.danger is not None for check in named)


def uses(procedure: Procedure, step: Step, entry: str) -> bool:
    """Return whether a finding of ``step`` depends on ``entry``."""
    return entry in procedure.rests_on[step.id]


def operand_value(operand: Operand, known: Known, procedure: Procedure, profile_name: str) -> Value:
    """Return the value of an operand, each of a list with what it is called; None if one was not measured."""
    if isinstance(operand, Since):
        return _seconds_between(operand, known.state)
    if isinstance(operand, FromPlan):
        return planned_figures(procedure, known.values, profile_name).get(operand.figure)
    if not isinstance(operand, Reference):
        return operand.value
    if not operand.many:
        return known.values.get(operand.ids[0])
    if any(i in known.absent for i in operand.ids):
        return None
    return tuple((procedure.entry_by_id[i].ask, known.values[i]) for i in operand.ids if i in known.values) or None


def _seconds_between(since: Since, state: State) -> Value:
    """Return the seconds from the taking of one entry to that of another, by the log's clock; None if one is not given.

    What the clock was set back or ahead by in between is taken off.
    """
    start, end = state.given.get(since.start), state.given.get(since.end)
    if start is None or end is None:
        return None
    wall = datetime.fromisoformat(end.at) - datetime.fromisoformat(start.at)
    set_s = (end.set_ahead_s - end.set_back_s) - (start.set_ahead_s - start.set_back_s)
    return max(0.0, wall.total_seconds() - set_s)


Instruments = Mapping[str, Instrument]


def _judge_check(
    procedure: Procedure, instruments: Instruments, check: StepCheck, known: Known, context: Context
) -> Finding:
    try:
        return _run(procedure, instruments, check, known, context)
    except OutOfRange as problem:
        firm = check.name != PLAN and named_check(check.name).firm
        return Finding(check.name, Verdict.UNDECIDED, str(problem), profile=context.profile.name, firm=firm)


def _at_once(procedure: Procedure, check: StepCheck, known: Known, context: Context) -> Finding | None:
    """Return the fail that one of the values given so far decides alone, or None."""
    if check.name == PLAN:
        return None
    given = {name: _so_far(operand, known, procedure) for name, operand in check.inputs.items()}
    return at_once(check.name, {name: v for name, v in given.items() if v is not None}, context)


def _so_far(operand: Operand, known: Known, procedure: Procedure) -> Value:
    if isinstance(operand, Reference):
        there = tuple((procedure.entry_by_id[i].ask, known.values[i]) for i in operand.ids if i in known.values)
        return (there or None) if operand.many else next((value for _, value in there), None)
    return operand.value if isinstance(operand, Literal) else None


def _run(procedure: Procedure, instruments: Instruments, check: StepCheck, known: Known, context: Context) -> Finding:
    if check.name == PLAN:
        return make_plan(procedure, known.values, context.profile.name).as_finding()
    given = {
        name: operand_value(operand, known, procedure, context.profile.name) for name, operand in check.inputs.items()
    }
    return run(check.name, given, Context(context.profile, _accuracy(procedure, instruments, check)))


def _accuracy(procedure: Procedure, instruments: Instruments, check: StepCheck) -> dict[str, Accuracy]:
    declared = dict[str, Accuracy]()
    for name, operand in check.inputs.items():
        if not isinstance(operand, Reference):
            continue
        instrument = instruments.get(procedure.entry_by_id[operand.ids[0]].instrument)
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
        sum_text=limit.expression.text,
        sources=(limit.source,),
        hands=limit.hands if verdict is limit.otherwise else "",
        profile=f"{context.profile.name} {context.profile.version}",
        inputs={name: known.values.get(name) for name in sorted(limit.expression.names)},
    )


def _limit_sentence(limit: StepLimit, verdict: Verdict, known: Known) -> str:
    if verdict is Verdict.MISSING:
        return f"not measured: {limit.says}"
    wanted = limit.says if verdict is Verdict.PASS else f"wanted: {limit.says}"
    figures = any(isinstance(known.values.get(n), float) for n in limit.expression.names)
    return f"{wanted} ({limit.expression.says(known.values)})" if figures else wanted
