"""What the ledger works out from bare values: which of them count, and what each check and limit says of them."""

from collections.abc import Iterable
from statistics import median

from engine.finding import Finding, Value, Verdict
from engine.plan.plan import make_plan, planned_figures
from engine.procedure.limit import Expression
from engine.procedure.model import Entry, Procedure, Step
from engine.procedure.model_circuit import FromPlan, Operand, Reference, StepCheck
from engine.published.profiles import profile
from engine.rules.check import Accuracy, Context
from engine.rules.registry import check as named_check
from engine.rules.registry import run
from engine.trade.ranges import OutOfRange


class Judged:
    """The part of a ledger that knows values and nothing of what happened."""

    work: Procedure
    readings: dict[str, list[Value]]
    absent: set[str]
    profile: str
    whens: list[tuple[Expression, list[str]]]
    _counts: dict[str, Value] | None

    def counts(self) -> dict[str, Value]:
        """Return what was given and belongs to this job, since its own condition and that of its step hold."""
        if self._counts is None:
            left: dict[str, Value] = {i: self._value(kept) for i, kept in self.readings.items()}
            while out := [i for when, ids in self.whens if when.holds(left) is not True for i in ids if i in left]:
                for entry in out:
                    left.pop(entry, None)
            self._counts = left
        return self._counts

    @staticmethod
    def _value(kept: list[Value]) -> Value:
        return median(kept) if len(kept) > 1 else kept[0]  # type: ignore[type-var]

    @staticmethod
    def whens_of(work: Procedure) -> list[tuple[Expression, list[str]]]:
        """Return each condition with the entries that are asked under it, their own or that of their step."""
        found: dict[str, tuple[Expression, list[str]]] = {}
        for step in work.steps:
            for entry in (*(work.entry_by_id[fact] for fact in step.asks), *step.readings):
                for when in (step.when, entry.when):
                    if when is not None:
                        found.setdefault(when.text, (when, []))[1].append(entry.id)
        return list(found.values())

    def _entries(self, step: Step) -> list[Entry]:
        return [*(self.work.entry_by_id[fact] for fact in step.asks), *step.readings]

    def judged(
        self, step: Step, values: dict[str, Value], declared: dict[str, Accuracy]
    ) -> Iterable[tuple[str, Finding]]:
        """Yield every verdict that the step asks for in this job, worked out from the bare values."""
        seen: dict[str, int] = {}
        for check in step.checks:
            seen[check.name] = seen.get(check.name, 0) + 1
            if check.when is None or check.when.holds(values) is True:
                number = seen[check.name]
                yield check.name if number == 1 else f"{check.name} {number}", self._check(check, values, declared)
        for number, limit in enumerate(step.limits, start=1):
            holds = limit.expression.holds(values)
            verdict = Verdict.MISSING if holds is None else Verdict.PASS if holds else limit.otherwise
            yield f"limit {number}", Finding("limit", verdict, limit.says)

    def _check(self, check: StepCheck, values: dict[str, Value], declared: dict[str, Accuracy]) -> Finding:
        try:
            if check.name == "plan":
                return make_plan(self.work, values, self.profile).as_finding()
            given = {name: self._operand(operand, values) for name, operand in check.inputs.items()}
            accuracy = {
                name: declared[meter]
                for name, operand in check.inputs.items()
                if isinstance(operand, Reference)
                and (meter := self.work.entry_by_id[operand.ids[0]].instrument) in declared
            }
            return run(check.name, given, Context(profile(self.profile), accuracy))
        except OutOfRange as problem:
            firm = check.name != "plan" and named_check(check.name).firm
            return Finding(check.name, Verdict.UNDECIDED, str(problem), firm=firm)

    def _operand(self, operand: Operand, values: dict[str, Value]) -> Value:
        if isinstance(operand, FromPlan):
            return planned_figures(self.work, values, self.profile).get(operand.figure)
        if not isinstance(operand, Reference):
            return operand.value
        if not operand.many:
            return values.get(operand.ids[0])
        left_out = any(i in self.absent for i in operand.ids)
        return None if left_out else tuple(values[i] for i in operand.ids if i in values) or None

    def _basis(self, step_id: str, key: str) -> object:
        """Return what a verdict rests on: a reason that was given for other figures settles nothing."""
        step, values = self.work.step_by_id[step_id], self.counts()
        if key.startswith("limit "):
            names = step.limits[int(key[6:]) - 1].expression.names
            return frozenset((i, values.get(i)) for i in names)
        name, _, number = key.partition(" ")
        check = [c for c in step.checks if c.name == name][int(number or 1) - 1]
        operands = list(check.inputs.values())
        if name == "plan" or any(isinstance(o, FromPlan) for o in operands):
            parts = self.work.circuit
            operands += [o for part in parts for o in (*part.found.values(), *part.planned.values())]
        names = {i for o in operands if isinstance(o, Reference) for i in o.ids}
        return self.profile, frozenset((i, values.get(i)) for i in names)
