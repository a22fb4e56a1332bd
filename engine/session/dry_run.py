"""Walks every branch of a procedure without a boat: what each value would bring, and where nothing leads on."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import combinations

from engine.finding import Value, Verdict, worst
from engine.procedure.model import Entry, Procedure, Step
from engine.procedure.model_circuit import Reference, Since
from engine.quantity import PIN_MAP, from_base
from engine.session import commands as c
from engine.session.allowed import ACCEPT, needed
from engine.session.answer import Understood, understand
from engine.session.apply import apply
from engine.session.decide import decide
from engine.session.events import Stamped
from engine.session.gates import current_step, entries, open_entries
from engine.session.judge import judge, uses
from engine.session.outcome import Decided
from engine.session.standing import standing
from engine.session.state import Given, State

NOW = datetime(2026, 1, 1, 9, tzinfo=UTC)
"""The moment at which a dry run begins; no evidence grows old in it."""

WIRES = ("2 AWG", "6 AWG", "10 AWG", "14 AWG", "18 AWG", "1/0 AWG")
"""Wire sizes that are tried, a passing one first; a project rule."""

WAIT = timedelta(minutes=12)
"""How long is waited before a value whose time is judged is taken; a project rule."""

MOST_STEPS = 400
"""Steps of one walk at most; a project rule."""

NOT_JUDGED = "not judged"

Tell = Callable[[int, int], None]
"""Is told how many ways were walked, and how many are known to be to be walked."""


@dataclass(frozen=True, slots=True)
class Row:
    """One value of one step: each text that was tried with the step's worst verdict on it."""

    step: str
    entry: str
    tried: tuple[tuple[str, str], ...]


@dataclass(slots=True)
class Walk:
    """One way through the procedure.

    ``turned`` is what makes it a branch, ``past`` what was gone past by reason or deviation, with its verdict, ``held``
    the hold or the STOP that stopped the turned value, ``dead_end`` a step that no value that was tried leads past.
    """

    turned: str
    steps: list[str] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    past: list[tuple[Verdict, str]] = field(default_factory=list)
    held: str = ""
    dead_end: str = ""


def dry_run(procedure: Procedure, tell: Tell = lambda walked, known: None) -> list[Walk]:
    """Return the plain way, and one walk for each other value that turns a condition of the procedure.

    A branch begins where its value is asked: what comes before is the way on which it was met first.
    """
    run = _DryRun(procedure)
    walks: list[Walk] = []
    while run.to_do:
        walks.append(run.walk(*run.to_do.pop(0)))
        tell(len(walks), len(walks) + len(run.to_do))
    return walks


def status(walks: list[Walk]) -> int:
    """Return 1 if a way ends dead, or the plain way goes past what failed or is undecided; else 0."""
    bad = {Verdict.FAIL, Verdict.UNDECIDED}
    return int(any(walk.dead_end for walk in walks) or any(verdict in bad for verdict, _ in walks[0].past))


def candidates(entry: Entry) -> list[str]:
    """Return the texts that are tried for an entry: middle and ends of its ranges, its choices, yes and no."""
    if entry.unit == "yes/no":
        return ["yes", "no"]
    if entry.unit == "choice":
        return list(entry.choices)
    if entry.unit == "wire":
        return list(WIRES)
    if entry.unit == PIN_MAP:
        return _maps(entry)
    if entry.unit == "words" or entry.hard is None:
        return ["a few words"]
    low, high = entry.likely or entry.hard
    numbers = [(low + high) / 2, low, high, *entry.hard]
    return list(dict.fromkeys(_text(entry, number) for number in numbers))


def _maps(entry: Entry) -> list[str]:
    """Return the maps that are tried: each position to its own far end, one of them open, one more pair joined."""
    far = entry.far or entry.positions
    own = [f"{near}-{far[at] if at < len(far) else 'OL'}" for at, near in enumerate(entry.positions)]
    stray = f"{entry.positions[0]}-{far[-1]}"
    return [" ".join(own), " ".join([f"{entry.positions[0]}-OL", *own[1:]]), " ".join(dict.fromkeys([*own, stray]))]


def _text(entry: Entry, base: float) -> str:
    number = from_base(base, entry.unit)
    text = f"{number:.0f}" if entry.unit == "" else f"{number:.6f}".rstrip("0").rstrip(".")
    return f"+{text}" if entry.signed and number >= 0 else text


class _Job:
    """A session in memory. Its clock stands, but where a time is judged. What is tried is tried on one just like it."""

    def __init__(self, procedure: Procedure, state: State | None = None, now: datetime = NOW) -> None:
        self.procedure = procedure
        self.state = State() if state is None else state
        self.now = now
        if state is None:
            self.send(c.Start("dry run", "nobody"))

    def like(self) -> "_Job":
        """Return another job in the same state."""
        return _Job(self.procedure, self.state.copy(), self.now)

    def send(self, command: c.Command) -> bool:
        decision = decide(self.procedure, self.state, command, self.now)
        if not isinstance(decision, Decided):
            return False
        for event in decision.events:
            at = self.now.isoformat(timespec="seconds")
            apply(self.state, Stamped(self.state.count + 1, at, 0.0, event))
        return True

    def take(self, entry: str, text: str) -> bool:
        """Give a value unless it is refused, or stops all work."""
        tried = self.like()
        if not tried.send(c.Take(entry, text, 0)) or tried.state.halted:
            return False
        self.state = tried.state
        return True


class _DryRun:
    """What is still to be walked: the values that are turned, and the job and the walk as they stood before."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.to_do: list[tuple[dict[str, str], _Job, Walk]] = [({}, _Job(procedure), Walk(""))]
        self._turning = {name for whens in procedure.conditions.values() for when in whens for name in when.names}
        self._met: set[str] = set()
        self._shown: set[str] = set()

    def walk(self, turned: Mapping[str, str], job: _Job, walk: Walk) -> Walk:
        """Walk one way to its end."""
        walk = replace(walk, turned=", ".join(f"{name} = {text}" for name, text in turned.items()))
        while (at := current_step(self.procedure, job.state, job.now)) is not None and len(walk.steps) < MOST_STEPS:
            step = self.procedure.step_by_id[at]
            before, so_far = job.like(), replace(walk, steps=[*walk.steps], rows=[], past=[*walk.past])
            stop = _fill(job, step, turned)
            if stop:
                walk.held = f"{step.id}: STOP: {stop}"
                return walk
            ended = _end(job, step, turned, walk)
            self._turn(turned, job, step, before, so_far)
            if at not in self._shown:
                walk.rows += _rows(job, step)
                self._shown.add(at)
            if not ended:
                return _stopped(job, step, turned, walk)
            walk.steps.append(at)
        if not job.send(c.Close()):
            walk.dead_end = "the closing"
        return walk

    def _turn(self, turned: Mapping[str, str], job: _Job, step: Step, before: _Job, so_far: Walk) -> None:
        """Note a way for each other value of what this step asks that turns a condition, once for each entry."""
        for entry in entries(self.procedure, job.state, step):
            if entry.id in self._turning and entry.id not in self._met:
                self._met.add(entry.id)
                for text in _turns(job, step, entry):
                    self.to_do.append(
                        (
                            {**turned, entry.id: text},
                            before.like(),
                            replace(so_far, steps=[*so_far.steps], past=[*so_far.past]),
                        )
                    )


def _turns(job: _Job, step: Step, entry: Entry) -> Iterator[str]:
    """Give one text of an entry for each way in which it turns the conditions that name it."""
    whens = [w for w in {w for all_ in job.procedure.conditions.values() for w in all_} if entry.id in w.names]
    values = standing(job.procedure, job.state)
    seen = {tuple(when.holds(values) for when in whens)}
    for text in candidates(entry):
        value = _value(entry, step, text)
        way = tuple(when.holds({**values, entry.id: value}) for when in whens)
        if value is not None and way not in seen:
            seen.add(way)
            yield text


def _value(entry: Entry, step: Step, text: str) -> Value:
    meant = understand(entry, step.id, text, 0)
    return Given(meant.taken, 0, NOW.isoformat()).value if isinstance(meant, Understood) else None


def _stopped(job: _Job, step: Step, turned: Mapping[str, str], walk: Walk) -> Walk:
    """Tell a hold that does its work on the value that was turned from a step that nothing leads past."""
    findings = judge(job.procedure, job.state, step).values()
    said = next(
        (f.sentence for f in findings if f.verdict not in (Verdict.PASS, Verdict.MARGINAL)), "it cannot be ended"
    )
    if any(uses(job.procedure, step, entry) for entry in turned):
        walk.held = f"{step.id}: {said}"
    else:
        walk.dead_end = f"{step.id}: {said}"
    return walk


def _fill(job: _Job, step: Step, turned: Mapping[str, str]) -> str:
    """Give all values of a step; return the STOP that a turned value brings, or nothing."""
    waited = {given.end for check in step.checks for given in check.inputs.values() if isinstance(given, Since)}
    while left := open_entries(job.procedure, job.state, step):
        entry = left[0]
        if entry.id in waited:
            job.now += WAIT
        if entry.id in turned:
            if not job.send(c.Take(entry.id, turned[entry.id], 0)):
                return ""
            if job.state.halted:
                return job.state.halted.sentence
        elif not any(job.take(entry.id, text) for text in candidates(entry)):
            return ""
    for part in step.parts:
        job.send(c.NamePart(step.id, part.id))
    return ""


def _end(job: _Job, step: Step, turned: Mapping[str, str], walk: Walk) -> bool:
    if job.send(c.Finish(step.id)) or _end_with_other_values(job, step, turned):
        return True
    for key, finding in judge(job.procedure, job.state, step).items():
        way = needed(finding.verdict, step.hold, firm=finding.firm)
        reason = "tried by the dry run"
        went = (
            job.send(c.Accept(step.id, key, reason))
            if way == ACCEPT
            else job.send(c.Deviate(step.id, key, reason, "DR"))
        )
        if went:
            walk.past.append((finding.verdict, f"{step.id}: {finding.verdict}, {finding.sentence}"))
    return job.send(c.Finish(step.id))


def _end_with_other_values(job: _Job, step: Step, turned: Mapping[str, str]) -> bool:
    """Try the other values of each entry in turn, and keep one that makes the step's findings better."""
    for entry in entries(job.procedure, job.state, step):
        if entry.id in turned:
            continue
        best, least = job.state, _severity(job, step)
        for text in [*candidates(entry), *_like_others(job, step, entry)]:
            tried = job.like()
            if least and tried.take(entry.id, text):
                _fill(tried, step, turned)
                if (now := _severity(tried, step)) < least:
                    least, best = now, tried.state
        job.state = best
        if job.send(c.Finish(step.id)):
            return True
    return _end_with_any_pair(job, step, turned)


def _end_with_any_pair(job: _Job, step: Step, turned: Mapping[str, str]) -> bool:
    """Try values of two entries together: a count and a sum can only be right with one another."""
    asked = [e for e in entries(job.procedure, job.state, step) if e.id not in turned and e.unit != "words"]
    for one, two in combinations(asked, 2):
        for text in [*candidates(one), *_like_others(job, step, one)]:
            first = job.like()
            if not first.take(one.id, text):
                continue
            for other in [*candidates(two), *_like_others(first, step, two)]:
                second = first.like()
                if second.take(two.id, other) and second.send(c.Finish(step.id)):
                    job.state = second.state
                    return True
    return False


def _severity(job: _Job, step: Step) -> int:
    return sum(finding.verdict.severity for finding in judge(job.procedure, job.state, step).values())


def _like_others(job: _Job, step: Step, entry: Entry) -> list[str]:
    """Return values that other entries of the same check or limit have, and the sum of a list of them."""
    if entry.hard is None:
        return []
    values = job.state.values()
    sets = [limit.expression.names for limit in step.limits]
    sets += [frozenset(o.ids) for check in step.checks for o in check.inputs.values() if isinstance(o, Reference)]
    found: list[float] = []
    for names in sets:
        numbers = [float(v) for n in sorted(names) if isinstance(v := values.get(n), float)]
        found += [*numbers, sum(numbers)]
    return [_text(entry, number) for number in dict.fromkeys(found) if entry.hard[0] <= number <= entry.hard[1]]


def _rows(job: _Job, step: Step) -> list[Row]:
    return [
        Row(step.id, entry.id, tuple((text, _verdict(job, step, entry, text)) for text in candidates(entry)))
        for entry in entries(job.procedure, job.state, step)
        if entry.unit != "words"
    ]


def _verdict(job: _Job, step: Step, entry: Entry, text: str) -> str:
    """Return the worst verdict of a step on a value of its own, or where it is judged if not here."""
    value = _value(entry, step, text)
    if value is None:
        return "refused"
    if not uses(job.procedure, step, entry.id):
        later = next((s.id for s in job.procedure.steps if uses(job.procedure, s, entry.id)), "")
        return f"judged in {later}" if later else NOT_JUDGED
    findings = judge(job.procedure, job.state, step, {entry.id: value})
    return str(worst(list(findings.values()))) if findings else NOT_JUDGED


def dry_lines(walks: list[Walk]) -> list[str]:
    """Return the walks as lines of text: the table of values, then what was gone past, then the dead ends."""
    lines = ["step, value: what each text brings"]
    for walk in walks:
        lines += [f"  {r.step}, {r.entry}: {_tried_words(r)}" for r in walk.rows]
    lines.append("ways through")
    for walk in walks:
        lines.append(f"  {walk.turned or 'the plain way'}: {len(walk.steps)} steps, {_end_words(walk)}")
        lines += [f"    past {text}" for _, text in walk.past]
    return lines


def _tried_words(row: Row) -> str:
    """Return what each text brings, said once if all bring the same."""
    verdicts = {verdict for _, verdict in row.tried}
    if len(verdicts) == 1:
        return verdicts.pop()
    return "; ".join(f"{text} {verdict}" for text, verdict in row.tried)


def _end_words(walk: Walk) -> str:
    if walk.dead_end:
        return f"DEAD END at {walk.dead_end}"
    return f"held at {walk.held}" if walk.held else "closes"
