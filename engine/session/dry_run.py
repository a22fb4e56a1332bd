"""Walks every branch of a procedure without a boat: what each value would bring, and where nothing leads on."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import combinations

from engine.finding import Verdict, worst
from engine.procedure.model import Entry, Procedure, Step
from engine.procedure.model_circuit import Reference
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
from engine.session.state import Given, State

NOW = datetime(2026, 1, 1, 9, tzinfo=UTC)
"""The moment at which a dry run stands; no evidence grows old in it."""

WIRES = ("2 AWG", "6 AWG", "10 AWG", "14 AWG", "18 AWG", "1/0 AWG")
"""Wire sizes that are tried, a passing one first; a project rule."""

MOST_STEPS = 400
"""Steps of one walk at most; a project rule."""


@dataclass(frozen=True, slots=True)
class Row:
    """One value of one step: each text that was tried with the step's worst verdict."""

    step: str
    entry: str
    tried: tuple[tuple[str, str], ...]


@dataclass(slots=True)
class Walk:
    """One way through the procedure.

    ``turned`` is what makes it a branch, ``past`` what was gone past by reason or deviation, ``held`` the hold that
    stopped the turned value, ``dead_end`` a step that no value that was tried leads past.
    """

    turned: str
    steps: list[str] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    past: list[str] = field(default_factory=list)
    held: str = ""
    dead_end: str = ""


def dry_run(procedure: Procedure) -> list[Walk]:
    """Return the plain way, and one walk for each other value that a condition of the procedure turns on."""
    seen: set[str] = set()
    walks = [_walk(procedure, {}, seen)]
    for entry, text in _turns(procedure):
        walks.append(_walk(procedure, {entry: text}, seen))
    return walks


def _turns(procedure: Procedure) -> Iterator[tuple[str, str]]:
    names = {name for whens in procedure.conditions.values() for when in whens for name in when.names}
    for name in sorted(names & set(procedure.entry_by_id), key=list(procedure.entry_by_id).index):
        for text in candidates(procedure.entry_by_id[name])[1:]:
            yield name, text


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
    """A session in memory, with a clock that stands; a STOP is answered at once."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.state = State()
        self.send(c.Start("dry run", "nobody"))

    def send(self, command: c.Command) -> bool:
        decision = decide(self.procedure, self.state, command, NOW)
        if not isinstance(decision, Decided):
            return False
        for event in decision.events:
            at = NOW.isoformat(timespec="seconds")
            apply(self.state, Stamped(self.state.count + 1, at, 0.0, event))
        if self.state.halted:
            self.send(c.HandsOff())
        return True


def _walk(procedure: Procedure, turned: Mapping[str, str], seen: set[str]) -> Walk:
    job, walk = _Job(procedure), Walk("".join(f"{name} = {text}" for name, text in turned.items()))
    while (at := current_step(procedure, job.state, NOW)) is not None and len(walk.steps) < MOST_STEPS:
        step = procedure.step_by_id[at]
        _fill(job, step, turned)
        ended = _end(job, step, turned, walk)
        if at not in seen:
            walk.rows += _rows(job, step)
            seen.add(at)
        if not ended:
            return _stopped(job, step, turned, walk)
        walk.steps.append(at)
    if not job.send(c.Close()):
        walk.dead_end = "the closing"
    return walk


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


def _fill(job: _Job, step: Step, turned: Mapping[str, str]) -> None:
    while left := open_entries(job.procedure, job.state, step):
        entry = left[0]
        texts = [turned[entry.id]] if entry.id in turned else candidates(entry)
        if not any(job.send(c.Take(entry.id, text, 0)) for text in texts):
            return
    for part in step.parts:
        job.send(c.NamePart(step.id, part.id))


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
            walk.past.append(f"{step.id}: {finding.verdict}, {finding.sentence}")
    return job.send(c.Finish(step.id))


def _end_with_other_values(job: _Job, step: Step, turned: Mapping[str, str]) -> bool:
    """Try the other values of each entry in turn, and keep one that makes the step's findings better."""
    for entry in entries(job.procedure, job.state, step):
        if entry.id in turned:
            continue
        best = _severity(job, step)
        stood = job.state.given[entry.id].taken.raw if entry.id in job.state.given else ""
        for text in [*candidates(entry), *_like_others(job, step, entry)]:
            if best and job.send(c.Take(entry.id, text, 0)):
                _fill(job, step, turned)
                if (now := _severity(job, step)) < best:
                    best, stood = now, text
        if stood:
            job.send(c.Take(entry.id, stood, 0))
        if job.send(c.Finish(step.id)):
            return True
    return _end_with_any_pair(job, step, turned)


def _end_with_any_pair(job: _Job, step: Step, turned: Mapping[str, str]) -> bool:
    """Try values of two entries together: a count and a sum can only be right with one another."""
    asked = [e for e in entries(job.procedure, job.state, step) if e.id not in turned and e.unit != "words"]
    for one, two in combinations(asked, 2):
        kept = {e.id: job.state.given[e.id].taken.raw for e in (one, two) if e.id in job.state.given}
        for text in [*candidates(one), *_like_others(job, step, one)]:
            job.send(c.Take(one.id, text, 0))
            for other in [*candidates(two), *_like_others(job, step, two)]:
                if job.send(c.Take(two.id, other, 0)) and job.send(c.Finish(step.id)):
                    return True
        for entry, text in kept.items():
            job.send(c.Take(entry, text, 0))
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
    meant = understand(entry, step.id, text, 0)
    if not isinstance(meant, Understood):
        return "refused"
    findings = judge(job.procedure, job.state, step, {entry.id: Given(meant.taken, 0, NOW.isoformat()).value})
    return str(worst(list(findings.values()))) if findings else str(Verdict.PASS)


def dry_lines(walks: list[Walk]) -> list[str]:
    """Return the walks as lines of text: the table of values, then what was gone past, then the dead ends."""
    lines = ["step, value: what each text brings"]
    for walk in walks:
        lines += [
            f"  {r.step}, {r.entry}: " + "; ".join(f"{text} {verdict}" for text, verdict in r.tried) for r in walk.rows
        ]
    lines.append("ways through")
    for walk in walks:
        lines.append(f"  {walk.turned or 'the plain way'}: {len(walk.steps)} steps, {_end_words(walk)}")
        lines += [f"    past {text}" for text in walk.past]
    return lines


def _end_words(walk: Walk) -> str:
    if walk.dead_end:
        return f"DEAD END at {walk.dead_end}"
    return f"held at {walk.held}" if walk.held else "closes"
