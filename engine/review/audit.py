"""Audit one log: its chain, its order, and every verdict recomputed from the texts as typed; a function of bytes."""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from engine.procedure.load import read_logged
from engine.procedure.model import Hold, Procedure
from engine.review.replay import Replay, replay
from engine.session.codec import NotAnEvent, from_flat
from engine.session.events import Stamped
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
    """What an audit found. ``replay`` is None if the events could not be walked; ``state`` is what they fold to."""

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
            return "closed, clean" if self.state.clean else "closed, not clean"
        return f"open, {self.count} events"

    @property
    def holds(self) -> tuple[HoldLine, ...]:
        """Every hold point that belongs to the job, with how it was opened."""
        if self.procedure is None or self.replay is None:
            return ()
        return tuple(
            HoldLine(s.id, s.title, s.hold is Hold.FIRM, self.replay.cleared.get(s.id, ""))
            for s in self.procedure.steps
            if s.hold is not Hold.NONE and (s.when is None or s.when.holds(self.state.values()) is True)
        )

    @property
    def exit_status(self) -> int:
        """0 whole, closed and clean; 1 with anything to look at; 2 if the file cannot be trusted."""
        if not self.trusted:
            return 2
        good = self.chain == "whole" and self.state.clean and self.replay is not None
        return 0 if good and self.replay is not None and not self.replay.problems else 1


def audit_file(path: Path) -> Audit:
    """Return the audit of one file, opened read-only."""
    return audit_scan(read_log(path), path.name)


def audit(data: bytes, name: str) -> Audit:
    """Return the audit of a log's bytes; the same bytes always give the same audit."""
    return audit_scan(scan(data), name)


def audit_scan(found: Scan, name: str) -> Audit:
    """Return the audit of what a scan found."""
    header = found.header or {}
    problem, stamped, procedure = "", list[Stamped](), None
    try:
        procedure = procedure_of(str(header["procedure_text"])) if "procedure_text" in header else None
        stamped = [from_flat(event) for event in found.events]
    except NotAnEvent as unknown:
        problem = str(unknown)
    except ValueError as unreadable:
        problem = f"its procedure cannot be read: {str(unreadable).splitlines()[0]}"
    walked = replay(procedure, stamped) if procedure is not None and not problem else None
    return Audit(
        name=name,
        chain=found.state,
        sentence=found.sentence,
        head=short_head(found.head) if found.head else "",
        count=len(found.events),
        began=str(header.get("began", "")),
        clock=str(header.get("clock", "")),
        profile=str(header.get("profile", "")),
        state=walked.state if walked is not None else State(),
        procedure=procedure,
        replay=walked,
        problem=problem,
    )


@lru_cache(maxsize=64)
def procedure_of(text: str) -> Procedure:
    """Return the procedure of a log; a text that was read before is not read again."""
    return read_logged(text)
