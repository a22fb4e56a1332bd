"""A ledger of what was proved, kept beside a session by somebody who knows the procedure and trusts no gate.

It is told what was done and when (in true time, not by the session's clock), never what the engine made of it: of an
event it reads neither ``voided`` nor ``rejudged``, and of ``ended`` only that after a break more may end. It works out
for itself what counts, what each proof is worth, what is void and what is open, and fails at the first thing that
should not have been recorded.
"""

from collections.abc import Iterable, Sequence
from copy import copy

from ledger_judged import Judged

from engine.finding import Finding, Value, Verdict
from engine.procedure.model import Hold, Procedure, Step
from engine.rules.check import Accuracy
from engine.session import events as e

BREAK_S = 600.0
"""Away this long is a break [s]: the project's ten minutes."""

ROUNDED_S = 2.0
"""The log's times are whole seconds: what is older by less than this is not called expired [s]."""


class Ledger(Judged):
    """What a careful helper would write down. ``take`` each event with the true time; it asserts as it goes."""

    def __init__(self, procedure: Procedure) -> None:
        self.work = procedure
        self.whens, self._counts = self.whens_of(procedure), None
        self.before = {s.id: self._watched(s) for s in procedure.steps}
        self.readings: dict[str, list[Value]] = {}
        self.absent: set[str] = set()
        self.measured_s: dict[str, float] = {}
        self.done: dict[str, float] = {}
        self.spent: set[str] = set()
        self.named: set[tuple[str, str]] = set()
        self.open: set[str] = set()
        self.closed_once: set[str] = set()
        self.settled: dict[tuple[str, str], tuple[str, object]] = {}
        self.instruments: dict[str, Accuracy] = {}
        self.used: dict[str, dict[str, Accuracy]] = {}
        self.profile = self.person = self.fixing = ""
        self.away_since_s: float | None = None
        self.last_s = 0.0
        self.over = False

    def copy(self) -> "Ledger":
        """Return a ledger that goes on from here on its own."""
        other = copy(self)
        for name, kept in vars(self).items():
            if isinstance(kept, dict | set) and name not in ("whens", "before"):
                setattr(other, name, kept.copy())
        return other

    def take(self, event: e.Event, true_s: float) -> None:
        """Carry one event in, at a true time [s]."""
        assert not self.over or isinstance(event, e.FollowedUp), f"{event} after the end"
        self._take(event, true_s)
        self.last_s = true_s

    def _take(self, event: e.Event, now_s: float) -> None:
        match event:
            case e.Opened():
                self.profile, self.person = event.profile, event.person
            case e.Corrected(entry=entry):
                self.fixing = entry
            case e.Taken():
                self._taken(event, now_s)
            case e.NotMeasured(entry=entry, step=step):
                self._left_out(entry, step, now_s)
            case e.Named(step=step, part=part):
                self._demand_gates(step, now_s)
                self.named.add((step, part))
            case e.StepDone(step=step):
                self._step_done(self.work.step_by_id[step], now_s)
            case e.Accepted(step=step, key=key):
                self.settled[step, key] = ("accept", self._basis(step, key))
            case e.Deviated(step=step, key=key):
                self.settled[step, key] = ("deviate", self._basis(step, key))
            case e.Redone(step=step):
                self._demand_gates(step, now_s)
                self._void_with(step)
            case e.Left() if self.away_since_s is None:
                self.away_since_s = now_s
            case e.Returned(ended=ended):
                self._returned(now_s, ended)
            case e.PersonChanged(person=person):
                self.person = person
                self._void(s.id for s in self.work.steps if s.hold is Hold.FIRM and s.id not in self.spent)
            case e.InstrumentDeclared():
                self.instruments[event.instrument] = Accuracy(event.percent, event.counts, event.resolution)
            case e.ProfileChosen(profile=chosen):
                self.profile = chosen
            case e.Stopped():
                self.over = True
            case e.Closed():
                self._demand_whole()
                self.over = True

    # what is given

    def _taken(self, event: e.Taken, now_s: float) -> None:
        value = float("inf") if event.over else event.number if event.number is not None else event.yes
        value = event.label if value is None else value
        before = self.readings.get(event.entry, [])
        kept = before[: event.turn - 1] if event.turn else []
        if self.fixing == event.entry and before:
            self.measured_s.setdefault(event.entry, now_s)
        else:
            self._demand_gates(event.step, now_s)
            self.measured_s[event.entry] = now_s
        self.fixing = ""
        self.absent.discard(event.entry)
        self.readings[event.entry] = [*kept, value]
        self._counts = None

    def _left_out(self, entry: str, step: str, now_s: float) -> None:
        assert self.work.step_by_id[step].hold is not Hold.FIRM, f"{entry} left out of a firm hold"
        assert not any(entry in names for names in self._conditions()), f"{entry} decides what belongs to the job"
        self._demand_gates(step, now_s)
        self.readings.pop(entry, None)
        self.measured_s.pop(entry, None)
        self.absent.add(entry)
        self._counts = None

    def _conditions(self) -> Iterable[frozenset[str]]:
        for step in self.work.steps:
            for one in (step, *step.checks, *self._entries(step)):
                if one.when is not None:
                    yield one.when.names

    # what is done

    def _step_done(self, step: Step, now_s: float) -> None:
        assert step.when is None or step.when.holds(self.counts()) is True, f"{step.id} does not belong to the job"
        again = step.id in self.done
        if not again:
            self._demand_gates(step.id, now_s)
            self._demand_young(step, now_s)
        if step.hold is not Hold.NONE or not again:
            self._demand_proved(step, self.counts(), self.instruments)
        self.used[step.id] = dict(self.instruments)
        if not again:
            self.done[step.id] = now_s
            self.spent.discard(step.id)
            self._spend(step.ends)
            self.open |= {item.id for item in step.opens}
            self.closed_once |= set(step.closes) & self.open
            self.open -= set(step.closes)

    def _watched(self, step: Step) -> list[Step]:
        before = self.work.steps[: self.work.steps.index(step)]
        return [s for s in before if s.hold is not Hold.NONE or s.id in step.needs]

    def _demand_gates(self, step_id: str, now_s: float) -> None:
        """Every gate was proved and still holds; every hold point before it was ended."""
        step, values = self.work.step_by_id[step_id], self.counts()
        for before in self.before[step_id]:
            belongs = before.when is None or before.when.holds(values)
            if belongs is None:
                asked_here = before.when is not None and before.when.names & {x.id for x in self._entries(step)}
                undecided = before.when is not None and any(self._may_come(n, values) for n in before.when.names)
                assert asked_here or not undecided, f"{step_id} while it is not known whether {before.id} belongs"
            if belongs and before.hold is not Hold.NONE:
                assert before.id in self.done, f"{step_id} before the hold {before.id}"
            if belongs and before.id in step.needs:
                self._demand_standing(step_id, before, now_s)

    def _may_come(self, name: str, values: dict[str, Value]) -> bool:
        known = name in values or name in self.absent
        return not known and all(when.holds(values) is not False for when, ids in self.whens if name in ids)

    def _demand_standing(self, step_id: str, gate: Step, now_s: float) -> None:
        assert gate.id in self.done, f"{step_id} before its gate {gate.id}"
        assert gate.id not in self.spent, f"{step_id} on the evidence of {gate.id}, which had ended"
        self._demand_young(gate, now_s)

    def _demand_young(self, step: Step, now_s: float) -> None:
        if step.lasts_s is None:
            return
        taken = [self.measured_s[x.id] for x in self._entries(step) if x.id in self.measured_s]
        oldest_s = min(taken or [self.done.get(step.id, now_s)])
        assert now_s - oldest_s <= step.lasts_s + ROUNDED_S, f"{step.id} rests on a reading that is too old"

    def _demand_proved(self, step: Step, values: dict[str, Value], declared: dict[str, Accuracy]) -> None:
        """Everything asked was given, every part seen, and every verdict settled as the rule for its hold says."""
        for entry in self._entries(step):
            if entry.when is None or entry.when.holds(values) is True:
                given = entry.id in values or (entry.id in self.absent and step.hold is not Hold.FIRM)
                assert given, f"{step.id} ended without {entry.id}"
        for part in step.parts:
            assert (step.id, part.id) in self.named, f"{step.id} ended without seeing {part.id}"
        for key, finding in self.judged(step, values, declared):
            self._demand_settled(step, key, finding)

    def _demand_settled(self, step: Step, key: str, finding: Finding) -> None:
        firm, verdict = finding.firm or step.hold is Hold.FIRM, finding.verdict
        how, basis = self.settled.get((step.id, key), ("", None))
        if verdict is Verdict.PASS or (verdict is Verdict.MISSING and step.hold is Hold.NONE and not finding.firm):
            return
        said = f"{step.id} ended with {key}: {verdict}, {finding.sentence}"
        assert verdict is Verdict.MARGINAL or not firm, said
        accepted = how == "accept" and (verdict is Verdict.MARGINAL or (verdict is Verdict.UNDECIDED and not step.hold))
        assert how == "deviate" or accepted, said
        assert basis == self._basis(step.id, key), f"{said}; settled for other values"

    # what ends

    def _spend(self, steps: Iterable[str]) -> None:
        """Evidence ends; of what was only begun, the readings are worth nothing."""
        for step_id in steps:
            if step_id in self.done:
                self.spent.add(step_id)
            else:
                self._void([step_id])

    def _void(self, steps: Iterable[str]) -> None:
        gone = set(steps)
        for entry in [i for i, s in self.work.step_of_entry.items() if s in gone]:
            self.readings.pop(entry, None)
            self.measured_s.pop(entry, None)
            self.absent.discard(entry)
        self._counts = None
        self.named = {(step, part) for step, part in self.named if step not in gone}
        self.settled = {key: how for key, how in self.settled.items() if key[0] not in gone}
        for step_id in gone:
            self.done.pop(step_id, None)
        self.spent -= gone

    def _void_with(self, step_id: str) -> None:
        gone, to_do = set[str](), [step_id]
        while to_do:
            one = to_do.pop()
            if one not in gone:
                gone.add(one)
                to_do.extend(self.work.step_by_id[one].voids)
        values = self.counts()
        for step in (self.work.step_by_id[i] for i in gone):
            if step.id in self.done and (step.when is None or step.when.holds(values)):
                self.open |= set(step.closes) & self.closed_once
        self._void(gone)

    def _returned(self, now_s: float, called_ended: Sequence[str]) -> None:
        """Somebody is back: what is too old by the true time away is spent, and what the log calls ended too.

        The log may end more: it counts whole seconds, and a clock that was set ahead meanwhile makes the break longer.
        """
        since = self.last_s if self.away_since_s is None else self.away_since_s
        away_s, self.away_since_s = now_s - since, None
        lasts = {s.id: s.lasts_away_s for s in self.work.steps if s.lasts_away_s is not None}
        old = [step for step, lasts_s in lasts.items() if away_s >= max(BREAK_S, lasts_s) + ROUNDED_S]
        assert set(called_ended) <= lasts.keys(), "a break ends only what does not last over one"
        self._spend([*old, *called_ended])

    def demand_standing_as_done(self, step_id: str) -> None:
        """Fail if a step of this job was never done, or is not proved by the values as they stand now."""
        step, values = self.work.step_by_id[step_id], self.counts()
        assert step_id in self.done, f"{step_id} stands as done"
        if step.when is None or step.when.holds(values) is True:
            self._demand_proved(step, values, self.used[step_id])

    def _demand_whole(self) -> None:
        """Nothing is open, every step of this job was done, and every one is proved by the values as they stand now."""
        assert not self.open, f"closed with {sorted(self.open)} left to do"
        values = self.counts()
        for step in self.work.steps:
            if step.when is None or step.when.holds(values) is True:
                self.demand_standing_as_done(step.id)
