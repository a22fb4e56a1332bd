"""The dated looks of closed jobs: which are to be made, across a folder, and answering one."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from engine.session.clock import Clock
from engine.session.commands import FollowUp
from engine.session.outcome import Outcome
from engine.session.runner import Runner
from engine.session.shelf import shelf

EVERY = 100_000
"""Logs of a folder that are looked through at most; a project rule."""


@dataclass(frozen=True, slots=True)
class DueLine:
    """One dated look: its log, what to look at, when, and what came of it (empty if still to be made)."""

    log: Path
    asset: str
    item: str
    says: str
    on: str
    outcome: str = ""

    def overdue(self, now: datetime) -> bool:
        """Return whether it is still to be made and its date has passed."""
        return not self.outcome and datetime.fromisoformat(self.on) <= now


def due_lines(folder: Path) -> tuple[DueLine, ...]:
    """Return every dated look of a folder's sessions, the earliest first."""
    return tuple(sorted(_lines(folder), key=lambda line: line.on))


def _lines(folder: Path) -> Iterator[DueLine]:
    for entry in shelf(folder, EVERY).lines:
        if entry.state is not None:
            for item, due in entry.state.due.items():
                yield DueLine(entry.path, entry.state.asset, item, due.says, due.on, due.outcome)


def answer(log: Path, item: str, outcome: str, person: str, clock: Clock) -> Outcome:
    """Write what a dated look found into its log.

    Raises:
        LogBusy, LogRefused: if the log cannot be written.
    """
    runner = Runner.resume(log, clock)
    try:
        return runner.send(FollowUp(item, outcome, person))
    finally:
        runner.close()
