"""One line a log: the facts that make grading quick, flat, so that they can be kept, sorted and exported."""

from dataclasses import dataclass
from hashlib import sha256
from typing import TypeGuard

from engine.finding import Verdict
from engine.procedure.model import Hold, Procedure
from engine.review.audit import Audit, HoldLine
from engine.review.marks import Mark
from engine.review.pace import breaks_s, seconds_on_task, until_end
from engine.session.decide_end import unmended
from engine.session.events import Event, Found, Halted
from engine.session.gates import applicable
from engine.session.standing import standing
from engine.session.state import FoundState, State


@dataclass(frozen=True, slots=True)
class Like:
    """Another log that shows the same digits, beyond chance, in ``equal`` of ``of`` measured values.

    ``after_s`` is how long after it this one was begun [s], negative if before. ``together`` is True if both were
    worked on the same boat and their equal values were taken within minutes of each other. ``same`` is True if it is
    the same log, entry for entry.
    """

    other: str
    equal: int = 0
    of: int = 0
    after_s: float = 0.0
    together: bool = False
    same: bool = False

    @property
    def sentence(self) -> str:
        """What is equal, which of the two came first, and what else could explain it."""
        if self.same:
            return f"the same log as {self.other}, entry for entry"
        when = f"begun {said_span(abs(self.after_s))} {'before' if self.after_s >= 0 else 'after'} this one"
        told = f"{self.equal} of {self.of} measured values show the digits of {self.other}, {when}"
        if self.together:
            return f"{told}: same boat, same minutes; they may have measured together"
        return f"{told}; one bench, or one who read out for both, would explain it: ask both"


def said_span(seconds: float) -> str:
    """Return a span as it is said: ``40 s``, ``12 min``, ``3 h``, ``2 days``."""
    for size, unit in ((86400, " days"), (3600, " h"), (60, " min")):
        if seconds >= 2 * size:
            return f"{seconds / size:.0f}{unit}"
    return f"{seconds:.0f} s"


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRow:
    """One log as the desk shows it.

    ``ended`` is ``closed``, ``stopped`` or ``open``; ``stopped`` says why, ``stopped_rightly`` that something had been
    found that nobody may go on past. ``differs`` counts readings and verdicts that come out otherwise, ``order`` steps
    and consequences that could not be. ``first_bad`` is the step to look at first, with its sentence. ``flagged`` are
    the steps in which anything but pass was ever found. ``rebuilt`` says that the file is not the one that was looked
    at before, ``earlier`` that it is less of it, ``files_wrong`` counts attached files that are missing or changed,
    ``other_text`` says that the procedure's text is not the one its name stands for. Times end in ``_s`` [s]. ``root``
    is the digest of all before the first event, ``goes_on`` names the log in which the same session goes on. ``doubts``
    are what it says of itself that wants a question, ``like`` is the log that is equal beyond chance. ``proposed`` is
    the mark that a rubric proposes, ``marking`` what the instructor said.
    """

    name: str
    sha256: str
    chain: str
    problem: str = ""
    head: str = ""
    events: int = 0
    person: str = ""
    asset: str = ""
    procedure: str = ""
    revision: str = ""
    procedure_sha256: str = ""
    profile: str = ""
    clock: str = ""
    demo: bool = False
    began: str = ""
    last_at: str = ""
    ended_at: str = ""
    ended: str = ""
    stopped: str = ""
    stopped_rightly: bool = False
    complete: bool = False
    clean: bool = False
    trusted: bool = False
    holds: tuple[HoldLine, ...] = ()
    asked: int = 0
    given: int = 0
    missing: int = 0
    fails: int = 0
    undecided: int = 0
    marginals: int = 0
    reasoned: int = 0
    deviations: int = 0
    differs: int = 0
    order: int = 0
    corrections: int = 0
    redone: int = 0
    clock_notes: int = 0
    on_task_s: float = 0.0
    breaks: int = 0
    breaks_s: float = 0.0
    left_to_do: int = 0
    due_open: int = 0
    bad_steps: tuple[str, ...] = ()
    flagged: tuple[str, ...] = ()
    first_bad: str = ""
    rebuilt: str = ""
    earlier: str = ""
    doubts: tuple[str, ...] = ()
    files_wrong: int = 0
    other_text: str = ""
    like: Like | None = None
    root: str = ""
    goes_on: str = ""
    proposed: float | None = None
    marking: Mark | None = None

    @property
    def mark(self) -> float | None:
        """The mark that was given, else the one that is proposed [points]."""
        return self.marking.mark if self.marking is not None and self.marking.mark is not None else self.proposed

    @property
    def holds_opened(self) -> int:
        """How many hold points were opened on evidence."""
        return sum(1 for hold in self.holds if hold.by == "evidence")

    @property
    def unproved(self) -> tuple[str, ...]:
        """The firm hold points that were not opened on evidence although the job was closed."""
        return tuple(h.title for h in self.holds if h.firm and h.by != "evidence") if self.ended == "closed" else ()

    @property
    def agrees(self) -> bool:
        """True if every reading, verdict and consequence comes out again as it is recorded."""
        return not (self.differs or self.order)

    @property
    def looks_clean(self) -> bool:
        """True if nothing needs a look: it can be accepted in bulk."""
        around = any(hold.by == "deviation" for hold in self.holds)
        recorded = self.fails or self.undecided or self.deviations or self.left_to_do or self.unproved or around
        another = self.rebuilt or self.earlier or self.files_wrong or self.other_text
        asked = self.doubts or (self.like is not None and not self.like.together)
        sound = self.trusted and self.chain == "whole" and self.agrees and self.clean
        return sound and not (recorded or another or asked)


def row_of(audit: Audit, data_sha256: str = "") -> LogRow:
    """Return the line of an audited log; ``data_sha256`` is the digest of its file's bytes, kept to know it again."""
    if audit.replay is None or audit.procedure is None:
        problem = audit.problem or audit.sentence
        return LogRow(
            name=audit.name, sha256=data_sha256, chain=audit.chain, problem=problem, head=audit.head, began=audit.began,
            events=audit.count, trusted=False, first_bad=problem, root=audit.root,
        )  # fmt: skip
    state, found, procedure = audit.state, audit.replay, audit.procedure
    holds = audit.holds
    bad = _bad_steps(audit, holds)
    return LogRow(
        name=audit.name,
        sha256=data_sha256,
        chain=audit.chain,
        problem="" if audit.trusted else audit.sentence,
        head=audit.head,
        root=audit.root,
        events=audit.count,
        person=state.person,
        asset=state.asset,
        procedure=procedure.id,
        revision=procedure.revision,
        procedure_sha256=procedure.sha256,
        profile=audit.profile,
        clock=audit.clock,
        demo=state.demo,
        began=audit.began,
        last_at=state.last_at,
        ended_at=until_end(audit.events)[-1].at if state.over else "",
        ended="stopped" if state.stopped else "closed" if state.closed else "open",
        stopped=state.stopped,
        stopped_rightly=bool(state.stopped) and any(_stops(item.event) for item in audit.events),
        complete=state.closed and all(s.id in state.done for s in applicable(procedure, state)),
        clean=state.clean,
        trusted=audit.trusted,
        holds=holds,
        asked=_asked(procedure, state),
        given=len(state.given),
        missing=len(state.absent),
        fails=sum(1 for f in state.findings.values() if f.verdict == Verdict.FAIL),
        undecided=sum(1 for f in state.findings.values() if f.verdict == Verdict.UNDECIDED),
        marginals=sum(1 for f in state.findings.values() if f.verdict == Verdict.MARGINAL),
        reasoned=sum(1 for f in state.findings.values() if f.accepted),
        deviations=len(found.deviations),
        differs=len(found.differences),
        order=len(found.order),
        corrections=len(found.corrections),
        redone=len(found.redone),
        clock_notes=state.clock_notes,
        on_task_s=seconds_on_task(audit.events),
        breaks=len(breaks_s(audit.events)),
        breaks_s=sum(breaks_s(audit.events)),
        left_to_do=len(state.items),
        due_open=sum(1 for due in state.due.values() if not due.outcome),
        bad_steps=tuple(bad),
        flagged=tuple(dict.fromkeys(i.event.step for i in audit.events if _is_trouble(i.event))),
        first_bad=_first_bad(audit, bad),
        doubts=tuple(doubt.says for doubt in audit.doubts),
    )


def digest_of(data: bytes) -> str:
    """Return the SHA-256 of a file's bytes, by which it is known again."""
    return sha256(data).hexdigest()


def _is_trouble(event: Event) -> TypeGuard[Found]:
    return isinstance(event, Found) and event.verdict != Verdict.PASS


def _stops(event: Event) -> bool:
    """Return whether an event is one that the work may not go on past: a STOP, or a fail."""
    return isinstance(event, Halted) or (isinstance(event, Found) and event.verdict == Verdict.FAIL)


def _asked(procedure: Procedure, state: State) -> int:
    values = standing(procedure, state)
    asked = (entry for step in applicable(procedure, state) for entry in procedure.entries_of(step))
    return sum(1 for entry in asked if entry.when is None or entry.when.holds(values) is True)


_SEVERITY = {str(verdict): verdict.severity for verdict in Verdict}


def _worst_by_step(state: State) -> dict[str, FoundState]:
    """Return the first of the worst findings of each step."""
    worst: dict[str, FoundState] = {}
    for (step, _), found in state.findings.items():
        if step not in worst or _SEVERITY[found.verdict] > _SEVERITY[worst[step].verdict]:
            worst[step] = found
    return worst


def _bad_steps(audit: Audit, holds: tuple[HoldLine, ...]) -> dict[str, str]:
    """Return the steps with something to look at, in working order, each with the sentence that says what."""
    assert audit.procedure is not None
    state, bad = audit.state, dict[str, str]()
    opened = {hold.step: hold for hold in holds}
    worst_in = _worst_by_step(state)
    stands = {step.id: sentence for step, sentence in unmended(audit.procedure, state)}
    for step in audit.procedure.steps:
        worst = worst_in.get(step.id)
        if worst is not None and _SEVERITY[worst.verdict] > _SEVERITY[Verdict.MARGINAL]:
            bad[step.id] = f"{worst.verdict}: {worst.sentence}"
        elif step.id in stands:
            bad[step.id] = f"fail, never measured good again: {stands[step.id]}"
        elif step.hold is not Hold.NONE and state.over and step.id in opened and opened[step.id].by != "evidence":
            bad[step.id] = f"hold not opened on evidence: {step.title}"
    return bad


def _first_bad(audit: Audit, bad: dict[str, str]) -> str:
    if not audit.trusted:
        return audit.sentence
    problems = audit.replay.problems if audit.replay is not None else []
    if problems:
        return problems[0]
    return next((f"{step}: {sentence}" for step, sentence in bad.items()), "")
