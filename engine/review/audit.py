"""Audit one log: its chain, its order, and every verdict recomputed from the texts as typed; a function of bytes."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from engine.procedure.load import read_logged
from engine.procedure.model import Hold, Procedure
from engine.review.doubts import Doubt, Record
from engine.review.doubts_of_time import doubts_of_time
from engine.review.doubts_of_values import doubts_of_values
from engine.review.replay import Replay, replay
from engine.review.spared import UNFIT, reason, spared
from engine.session.codec import NotAnEvent, from_flat
from engine.session.decide_end import unmended
from engine.session.events import Opened, Stamped
from engine.session.gates import applicable
from engine.session.scan import Scan, read_log, scan, short_head
from engine.session.state import State

WORDS = {
    "whole": "whole", "torn": "cut short", "altered": "altered", "edited": "touched by an editor",
    "newer": "written by a newer version", "not a log": "not a log",
}  # fmt: skip
"""What a scan's state is called in a report."""


@dataclass(frozen=True, slots=True)
class HoldLine:
    """One hold point of the job: its step, and how it was opened (``evidence``, ``deviation`` or empty)."""

    step: str
    title: str
    firm: bool
    by: str


@dataclass(frozen=True, slots=True)
class Audit:
    """What an audit found. ``replay`` is None if the events could not be walked; ``state`` is what they fold to.

    ``head`` is the chain's head short enough for paper, ``whole_head`` all of it, ``root`` that of the header alone.
    ``doubts`` are what the log says of itself that wants a question.
    """

    name: str
    chain: str
    sentence: str
    head: str
    count: int
    began: str
    clock: str
    profile: str
    state: State
    procedure: Procedure | None
    replay: Replay | None
    problem: str = ""
    events: tuple[Stamped, ...] = ()
    program: str = ""
    whole_head: str = ""
    root: str = ""
    doubts: tuple[Doubt, ...] = ()

    @property
    def trusted(self) -> bool:
        """True if the chain is whole, or only its half-written tail is missing."""
        return self.chain in ("whole", "torn") and not self.problem

    @property
    def ended(self) -> str:
        """How the job ended, or that it is open and after how many events."""
        if not self.trusted:
            return f"readable up to event {self.count}"
        if self.state.stopped:
            return "stopped, unfinished"
        if self.state.closed:
            otherwise = self.replay is not None and bool(self.replay.problems)
            said = "closed, clean" if self.state.clean else "closed, not clean"
            return "closed; it comes out otherwise when computed again" if otherwise else said
        return f"open, {self.count} events"

    @property
    def holds(self) -> tuple[HoldLine, ...]:
        """Every hold point that belongs to the job, with how it was opened."""
        if self.procedure is None or self.replay is None:
            return ()
        return tuple(
            HoldLine(s.id, s.title, s.hold is Hold.FIRM, self.replay.cleared.get(s.id, ""))
            for s in applicable(self.procedure, self.state)
            if s.hold is not Hold.NONE
        )

    @property
    def standing(self) -> tuple[str, ...]:
        """Fails of a firm hold that were never measured good again, each under the title of its step."""
        told = unmended(self.procedure, self.state) if self.procedure is not None else ()
        return tuple(f"{step.title}: {sentence}" for step, sentence in told)

    @property
    def exit_status(self) -> int:
        """0 whole, closed and clean; 1 with anything to look at; 2 if the file cannot be trusted."""
        if not self.trusted:
            return 2
        good = self.chain == "whole" and self.state.clean and self.replay is not None
        return 0 if good and self.replay is not None and not self.replay.problems and not self.doubts else 1


def audit_file(path: Path) -> Audit:
    """Return the audit of one file, opened read-only."""
    return audit_scan(read_log(path), path.name)


def audit(data: bytes, name: str) -> Audit:
    """Return the audit of a log's bytes; the same bytes always give the same audit."""
    return audit_scan(scan(data), name)


def audit_scan(found: Scan, name: str) -> Audit:
    """Return the audit of what a scan found."""
    header = found.header or {}
    problem, procedure, walked, stamped = "", None, None, list[Stamped]()
    try:
        procedure = procedure_of(str(header["procedure_text"])) if "procedure_text" in header else None
        stamped = [from_flat(event) for event in found.events]
        walked = replay(procedure, stamped) if procedure is not None else None
    except NotAnEvent as unknown:
        problem = str(unknown)
    except (ValueError, RecursionError) as unreadable:
        problem = f"its procedure cannot be read: {reason(unreadable)}"
    except UNFIT as unwalkable:
        problem = f"its events do not fit its procedure: {reason(unwalkable)}"
    if walked is not None:
        walked.order[:0] = _header_problems(header, procedure, walked.state, stamped)
    clock = str(header.get("clock", ""))
    doubts, why = spared(lambda: _doubts(clock, procedure, walked, stamped))
    return Audit(
        name=name,
        chain=found.state,
        sentence=found.sentence,
        head=short_head(found.head) if found.head else "",
        count=len(found.events),
        began=str(header.get("began", "")),
        clock=clock,
        profile=str(header.get("profile", "")),
        state=walked.state if walked is not None else State(),
        procedure=procedure,
        replay=walked,
        problem=problem,
        events=tuple(stamped),
        program=str(header.get("program", "")),
        whole_head=found.head,
        root=found.heads[0] if found.heads else "",
        doubts=doubts or ((Doubt("odd", f"its values cannot be held against each other: {why}"),) if why else ()),
    )


def _doubts(
    clock: str, procedure: Procedure | None, walked: Replay | None, stamped: list[Stamped]
) -> tuple[Doubt, ...]:
    if procedure is None or walked is None:
        return ()
    stand = {key: finding for key, finding in walked.judged.items() if key in walked.state.findings}
    changed = tuple((entry, *told) for entry, told in walked.changed.items())
    record = Record(clock, procedure, walked.state, tuple(stamped), stand, changed)
    return (*doubts_of_time(record), *doubts_of_values(record))


def _header_problems(
    header: Mapping[str, object], procedure: Procedure | None, state: State, events: list[Stamped]
) -> list[str]:
    """Return where the header does not agree with the events or with the procedure that it holds."""
    opened = events[0].event if events else None
    began = events[0] if events else None
    agree = {
        "asset": (header.get("asset"), state.asset),
        "profile": (str(header.get("profile", "")).split(" ")[0], opened.profile if isinstance(opened, Opened) else ""),
        "demo": (header.get("demo", False), state.demo),
        "began": (header.get("began"), began.at if began else ""),
        "procedure": (header.get("procedure"), state.procedure),
        "procedure_sha256": (header.get("procedure_sha256"), procedure.sha256 if procedure else ""),
    }
    return [
        f'header: {name} says "{str(says)[:80]}", the log holds "{str(holds)[:80]}"'
        for name, (says, holds) in agree.items()
        if str(says).strip() != str(holds) and state.count
    ]


@lru_cache(maxsize=64)
def procedure_of(text: str) -> Procedure:
    """Return the procedure of a log; a text that was read before is not read again."""
    return read_logged(text)
