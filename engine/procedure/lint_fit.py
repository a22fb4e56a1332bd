"""Lint: whether each step fits a screen of 80x24 without scrolling, and three of 40x12, counted on its wrapped text."""

from collections.abc import Iterator
from textwrap import wrap
from typing import NamedTuple

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Entry, Step

ROWS, WIDTH = 24, 66
SMALL_ROWS, SMALL_WIDTH, SMALL_SCREENS = 12, 36, 3
"""Rows, and characters of text a row, of the usual and of the smallest screen (project rule)."""

FIXED_ROWS = 4
"""Place line, title, verdict and keys."""

MOST_VALUES = 6
"""Values of one step that are taken in one go (project rule)."""


class Rows(NamedTuple):
    """The rows that the parts of a step take."""

    warnings: int
    action: int
    why: int
    values: int

    @property
    def total(self) -> int:
        """All rows, with those that every step has and one between the parts."""
        return FIXED_ROWS + sum(self) + sum(1 for part in self if part)


def fit_doubts(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every step that does not fit."""
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id]
        facts = [loaded.procedure.entry_by_id[name] for name in step.asks if name in loaded.procedure.entry_by_id]
        rows = rows_of(step, facts, WIDTH)
        if rows.total > ROWS:
            yield place, f"takes {rows.total} rows ({_parts(rows)}); {ROWS} fit on a screen of 80x24"
        small = rows_of(step, facts, SMALL_WIDTH).total
        screens = -(-(small - FIXED_ROWS) // (SMALL_ROWS - FIXED_ROWS))
        if screens > SMALL_SCREENS:
            yield place, f"takes {screens} screens of 40x12; {SMALL_SCREENS} at most"
        if len(step.readings) > MOST_VALUES:
            yield place, f"takes {len(step.readings)} readings; {MOST_VALUES} at most in one step"


def rows_of(step: Step, facts: list[Entry], width: int) -> Rows:
    """Return how many rows the parts of a step take when wrapped at ``width`` characters.

    Args:
        step: The step.
        facts: The facts that it asks.
        width: Characters in a line of text.
    """
    warnings = [f"{each.word}: {each.hazard} {each.avoid} {each.consequence}" for each in step.warnings]
    action = [step.action, *(f"Stop: {reason}" for reason in step.stop_if)]
    undone = [f"Cannot be undone: {step.irreversible}"] if step.irreversible else []
    entries = [each.ask for each in (*facts, *step.readings)]
    parts = [f"1 {part.name}, {part.facing}" for part in step.parts]
    return Rows(
        _wrapped(warnings, width),
        _wrapped([*action, *undone], width),
        _wrapped([step.why], width),
        min(_wrapped([*entries, *parts], width), MOST_VALUES if len(facts) > MOST_VALUES else 1000) + _view_rows(step),
    )


def _view_rows(step: Step) -> int:
    return 1 + len(step.view.positions) if step.view else 0


def _wrapped(texts: list[str], width: int) -> int:
    return sum(len(wrap(line, width)) for text in texts for line in text.split("\n"))


def _parts(rows: Rows) -> str:
    said = zip(("warnings", "action", "why", "values"), rows, strict=True)
    return ", ".join(f"{name} {count}" for name, count in said if count)
