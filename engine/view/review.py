"""What home and the review screens show of many logs: rows of plain texts, worst first, and one sentence on all."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import overload

from engine.review.audit import WORDS
from engine.review.desk import Desk
from engine.review.listed import FILTERS, hidden_names
from engine.review.marks import Mark, fits
from engine.review.row import LogRow
from engine.review.rubric import Rubric, propose
from engine.view.words import count


@dataclass(frozen=True, slots=True)
class ReviewLine:
    """One log as a row of a table. ``cells`` stand under ``COLUMNS``; ``first_bad`` is what to look at first.

    ``step`` is the first step with something wrong, for the key that jumps there; ``clean`` logs may be accepted in
    bulk; ``marked`` says what the instructor gave, ``proposed`` why the rubric proposes its mark; the last cell is the
    mark that was given, else the one proposed. ``file`` is the real name of the log, never shown when names are hidden.
    """

    file: str
    cells: tuple[str, ...]
    first_bad: str
    step: str
    clean: bool
    marked: str
    proposed: tuple[str, ...]


class Lines(Sequence[ReviewLine]):
    """The lines of a table, each made when it is looked at: ten thousand logs cost no more than those on the screen."""

    def __init__(self, rows: Sequence[LogRow], make: Callable[[LogRow], ReviewLine]) -> None:
        self._rows, self._make = rows, make

    def __len__(self) -> int:
        return len(self._rows)

    @overload
    def __getitem__(self, at: int) -> ReviewLine: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[ReviewLine, ...]: ...
    def __getitem__(self, at: int | slice) -> ReviewLine | tuple[ReviewLine, ...]:
        found = self._rows[at]
        return self._make(found) if isinstance(found, LogRow) else tuple(self._make(row) for row in found)


@dataclass(frozen=True, slots=True)
class ReviewView:
    """The table: its lines in order, and a sentence on all of them."""

    sentence: str
    lines: Lines


COLUMNS = (
    "log",
    "person",
    "asset",
    "state",
    "holds",
    "fail",
    "undec.",
    "differ",
    "missing",
    "left",
    "min",
    "mark",
)
"""Heads of the table's columns."""

SHOWS = tuple(FILTERS)
"""The ways to filter a table, by name."""


def review_view(desk: Desk) -> ReviewView:
    """Return the table of a desk as it is wanted now.

    Raises:
        BadPaper: if the file of marks cannot be read.
        NoSuchView: if there is no such sort or filter.
    """
    files = {name: real for real, name in hidden_names(desk.rows).items()} if desk.hidden else {}

    def line(row: LogRow) -> ReviewLine:
        return _line(row, files.get(row.name, row.name), desk.rubric)

    return ReviewView(summary(desk.graded()), Lines(desk.listed(), line))


def summary(rows: Iterable[LogRow]) -> str:
    """Return one sentence on all logs: how many, how many need a look, are not to be trusted, were marked."""
    listed = list(rows)
    clean = sum(1 for row in listed if row.looks_clean)
    bad = sum(1 for row in listed if not row.trusted)
    given = sum(1 for row in listed if row.marking is not None)
    told = count(len(listed), "log") + (f", {given} marked" if given else "")
    return f"{told}: {clean} clean, {len(listed) - clean - bad} to look at, {bad} not to be trusted"


def _line(row: LogRow, file: str, rubric: Rubric) -> ReviewLine:
    proposed = propose(row, rubric)
    points = replace(row, proposed=proposed.mark).mark
    mark = "-" if points is None else f"{points:g}"
    cells = (
        row.name, row.person, row.asset, _state(row), f"{row.holds_opened}/{len(row.holds)}",
        str(row.fails), str(row.undecided), str(row.differs + row.order), str(row.missing), str(row.left_to_do),
        f"{row.on_task_s / 60:.0f}", mark,
    )  # fmt: skip
    step = row.bad_steps[0] if row.bad_steps else ""
    return ReviewLine(file, cells, _first(row), step, row.looks_clean, _marked(row, row.marking), proposed.reasons)


def _state(row: LogRow) -> str:
    """Return how the job stands, or what is wrong with its file."""
    if row.rebuilt or row.earlier:
        return "rebuilt" if row.rebuilt else "earlier"
    if row.chain != "whole":
        return WORDS.get(row.chain, row.chain)
    if not row.agrees:
        return "differs"
    asked = row.doubts or (row.like is not None and not row.like.together)
    return "to ask" if row.clean and asked else "clean" if row.clean else row.ended or "-"


def _first(row: LogRow) -> str:
    """Return what to look at first, and how much more there is."""
    told = [*_reasons(row)]
    return f"{told[0]} (and {len(told) - 1} more)" if len(told) > 1 else "".join(told)


def _reasons(row: LogRow) -> Iterator[str]:
    """Yield everything to look at in a log, the worst first."""
    if not row.trusted:
        yield row.rebuilt or row.first_bad
        return
    yield from filter(None, (row.earlier, row.other_text))
    if not row.agrees:
        yield f"{DIFFERS}: {row.first_bad}"
    if row.goes_on:
        yield f"the same session goes on in {row.goes_on}"
    yield from row.doubts
    if row.like is not None:
        yield row.like.sentence
    if row.stopped:
        yield f"stopped: {row.stopped}"
    if row.first_bad and row.agrees:
        yield row.first_bad
    if row.files_wrong:
        yield f"{count(row.files_wrong, 'attached file')} missing or changed"
    unfinished = "" if row.looks_clean or row.stopped or row.first_bad else _not_finished(row)
    if unfinished:
        yield unfinished


DIFFERS = "its verdicts do not follow from its readings: it was made by another program, or changed and sealed anew"
"""What is said of a log that comes out otherwise when it is computed again."""


def _not_finished(row: LogRow) -> str:
    """Return why a log without a bad finding is looked at all the same."""
    opened = f"{row.holds_opened} of {count(len(row.holds), 'hold')} opened"
    left = f"{row.left_to_do} left to do" if row.left_to_do else ""
    ended = "" if row.ended == "closed" else row.ended or "not begun"
    gone_round = count(row.deviations, "deviation") if row.deviations else ""
    said = (row.problem if row.chain != "whole" else "", ended, opened, left, gone_round, ", ".join(row.unproved))
    return "; ".join(part for part in said if part)


def _marked(row: LogRow, mark: Mark | None) -> str:
    if mark is None:
        return ""
    told = (
        "accepted"
        if mark.accepted and mark.mark is None
        else f"mark {mark.mark:g}"
        if mark.mark is not None
        else "noted"
    )
    note = f": {mark.note}" if mark.note else ""
    return f"{told}{note}" if fits(mark, row.head) else f"{told}, but the log has changed since{note}"
