"""Every step of every shipped procedure, with all it can ask, fits: one page at 80x24, at most three at 40x12."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session.state import State
from engine.shipped import shipped
from engine.view.models import StepView
from engine.view.step import step_view
from tui.awaited import row_asked
from tui.draw.pages import Room, paged
from tui.draw.step import place_lines, step_blocks

MOST_PAGES = {(40, 12): 3, (60, 20): 2, (80, 24): 1, (120, 40): 1, (200, 60): 1}
NOW = datetime(2025, 6, 1, 9, tzinfo=UTC)


def steps(path: Path) -> list[StepView]:
    """Return every step as if it were open; a plan without facts is no step that anybody meets."""
    procedure = load(path)
    state = State(
        procedure=procedure.id, asset="Grey Heron", profile=procedure.profile, demo=True, last_at=NOW.isoformat()
    )
    views = [step_view(procedure, state, step.id, NOW) for step in procedure.steps]
    return [replace(view, status="open", shut=()) for view in views if view.plan is None]


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
@pytest.mark.parametrize("size", MOST_PAGES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_every_step_fits(path: Path, size: tuple[int, int]) -> None:
    room = Room(*size)
    too_long = {}
    for view in steps(path):
        asked = row_asked(view)
        typed = asked is not None and not asked.choices
        rows = room.height - len(place_lines(view, room)) - 1 - typed
        pages = paged(step_blocks(view, room, asked.id if asked else ""), rows)
        if len(pages) > MOST_PAGES[size]:
            too_long[view.id] = len(pages)
    assert too_long == {}
