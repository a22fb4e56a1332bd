"""The dated looks of a folder of sessions: what is still to be looked at, the longest overdue first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from engine.session.shelf import ShelfLine
from engine.view.words import span


@dataclass(frozen=True, slots=True)
class DueLine:
    """One dated look that was not answered yet. ``late`` is True from its day on."""

    path: str
    item: str
    asset: str
    says: str
    on: str
    when: str
    late: bool


def due_view(lines: Iterable[ShelfLine], now: datetime) -> tuple[DueLine, ...]:
    """Return every dated look without an answer, the earliest first, as it stands at ``now`` (aware, UTC)."""
    found = [
        _line(line, item, now)
        for line in lines
        if line.state is not None and not line.problem
        for item, due in line.state.due.items()
        if not due.outcome
    ]
    return tuple(sorted(found, key=lambda due: (due.on, due.path, due.item)))


def _line(line: ShelfLine, item: str, now: datetime) -> DueLine:
    assert line.state is not None
    due = line.state.due[item]
    left_s = (datetime.fromisoformat(due.on) - now).total_seconds()
    name = f"{'demo: ' if line.state.demo else ''}{line.state.asset}"
    when = f"due since {span(-left_s)}" if left_s <= 0 else f"in {span(left_s)}"
    return DueLine(str(line.path), item, name, due.says, due.on[:10], when, left_s <= 0)
