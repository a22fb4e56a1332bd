"""Proposes a mark for a log from a rubric, which is data, and says in words where each point went."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from engine.review.paper import BadPaper, read_paper
from engine.review.row import LogRow
from engine.session.beside import RUBRIC_KEYS

SHIPPED = Path(__file__).with_name("rubric.toml")
PARTS = ("holds", "readings", "order", "record", "deadline")
_DAY_S = 86_400.0


@dataclass(frozen=True, slots=True)
class Rubric:
    """How a mark is proposed. ``points`` by part; ``hold_weight`` by step id, ``hold`` and ``firm``."""

    title: str
    points: Mapping[str, float]
    hold_weight: Mapping[str, float]
    firm_without_evidence_is_zero: bool
    deviation_share: float
    order_points_each: float
    ask_points_each: float
    left_points_each: float
    cut_short_points: float
    late_points_per_day: float
    deadline: datetime | None = None

    @property
    def total(self) -> float:
        """The points of a job without fault."""
        return sum(self.points.values())


@dataclass(frozen=True, slots=True)
class Proposed:
    """A proposed mark [points], None if the file cannot be trusted; with its reasons, in words."""

    mark: float | None
    of: float
    reasons: tuple[str, ...]


@cache
def shipped_rubric() -> Rubric:
    """Return the rubric that comes with the program."""
    return load_rubric(SHIPPED)


def load_rubric(path: Path) -> Rubric:
    """Return a rubric.

    Raises:
        BadPaper: if the file cannot be used; says where and what would be right.
    """
    return _Reader(path.name, read_paper(path)).rubric()


def propose(row: LogRow, rubric: Rubric) -> Proposed:
    """Return the mark that a rubric proposes for a log.

    Args:
        row: The log's line.
        rubric: The weights.

    Returns:
        The mark [points] with the reasons for each point that is missing.

    Source:
        The rubric; its figures are a project rule.

    Example:
        >>> propose(LogRow(name="a", sha256="", chain="altered", problem="altered: event 3"), shipped_rubric()).mark
    """
    if not row.trusted:
        return Proposed(None, rubric.total, (f"no mark: {row.rebuilt or row.problem or row.chain}",))
    if row.differs:
        return Proposed(None, rubric.total, ("no mark: its verdicts do not follow from its readings",))
    if row.stopped:
        return _stopped(row, rubric)
    if row.unproved and rubric.firm_without_evidence_is_zero:
        return Proposed(0.0, rubric.total, tuple(f"0: firm hold passed without evidence: {t}" for t in row.unproved))
    mark, reasons = 0.0, list[str]()
    for share in _SHARES.values():
        got, why = share(row, rubric)
        mark += max(0.0, got)
        reasons += why
    return Proposed(round(mark, 1), rubric.total, tuple(reasons) or ("nothing missing",))


def _stopped(row: LogRow, rubric: Rubric) -> Proposed:
    """Return all points for a stop before something that nobody may go on past: it is the right thing to do."""
    if row.stopped_rightly:
        return Proposed(rubric.total, rubric.total, (f"stopped, as is right: {row.stopped}",))
    return Proposed(None, rubric.total, (f"no mark: stopped: {row.stopped}",))


def _holds(row: LogRow, rubric: Rubric) -> tuple[float, list[str]]:
    weights = {
        h.step: rubric.hold_weight.get(h.step, rubric.hold_weight["firm" if h.firm else "hold"]) for h in row.holds
    }
    total = sum(weights.values())
    if not total:
        return rubric.points["holds"], []
    each, got, why = rubric.points["holds"] / total, 0.0, list[str]()
    for hold in row.holds:
        share = 1.0 if hold.by == "evidence" else rubric.deviation_share if hold.by and not hold.firm else 0.0
        got += each * weights[hold.step] * share
        if share < 1:
            how = f"opened by {hold.by}" if hold.by else "not opened"
            why.append(f"-{each * weights[hold.step] * (1 - share):.1f}: hold {how}: {hold.title}")
    return got, why


def _readings(row: LogRow, rubric: Rubric) -> tuple[float, list[str]]:
    if row.asked == 0:
        return rubric.points["readings"], []
    given = min(row.given, row.asked)
    lost = rubric.points["readings"] * (1 - given / row.asked)
    why = [f"-{lost:.1f}: {row.asked - given} of {row.asked} values not taken"] if lost else []
    return rubric.points["readings"] - lost, why


def _order(row: LogRow, rubric: Rubric) -> tuple[float, list[str]]:
    return _less(rubric.points["order"], (row.order, rubric.order_points_each, "out of order"))


def _record(row: LogRow, rubric: Rubric) -> tuple[float, list[str]]:
    return _less(
        rubric.points["record"],
        (len(row.doubts), rubric.ask_points_each, "to ask about"),
        (row.left_to_do, rubric.left_points_each, "left to do"),
        (int(row.chain == "torn"), rubric.cut_short_points, "entry half written"),
    )


def _deadline(row: LogRow, rubric: Rubric) -> tuple[float, list[str]]:
    points = rubric.points["deadline"]
    if row.ended == "open":
        return 0.0, [f"-{points:.1f}: not closed"]
    if rubric.deadline is None:
        return points, []
    late_s = (datetime.fromisoformat(row.ended_at or row.last_at) - rubric.deadline).total_seconds()
    return _less(points, (max(0, math.ceil(late_s / _DAY_S)), rubric.late_points_per_day, "days late"))


def _less(points: float, *taken: tuple[int, float, str]) -> tuple[float, list[str]]:
    left, why = points, list[str]()
    for count, each, words in taken:
        off = min(left, count * each)
        left -= off
        if count:
            why.append(f"-{off:.1f}: {count} {words}")
    return left, why


_SHARES: Mapping[str, Callable[[LogRow, Rubric], tuple[float, list[str]]]] = {
    "holds": _holds,
    "readings": _readings,
    "order": _order,
    "record": _record,
    "deadline": _deadline,
}


class _Reader:
    """Reads a rubric and says what is wrong with it."""

    def __init__(self, name: str, read: Mapping[str, Any]) -> None:
        self._name = name
        self._read = read

    def rubric(self) -> Rubric:
        self._only(self._read, RUBRIC_KEYS, "")
        if self._read.get("schema") != 1:
            raise BadPaper(f"{self._name}: schema: must be 1")
        points, weights, rule = (self._table(key) for key in ("points", "hold_weight", "rule"))
        self._only(points, PARTS, "points.")
        self._only(rule, (*_RULES, "firm_without_evidence_is_zero", "deadline"), "rule.")
        zero = rule.get("firm_without_evidence_is_zero")
        if not isinstance(zero, bool):
            raise BadPaper(f"{self._name}: rule.firm_without_evidence_is_zero: must be true or false")
        return Rubric(
            title=str(self._read.get("title", "")),
            points={part: self._number(points, part, "points.") for part in PARTS},
            hold_weight={key: self._number(weights, key, "hold_weight.") for key in {"hold", "firm", *weights}},
            firm_without_evidence_is_zero=zero,
            deadline=self._deadline(rule.get("deadline", "")),
            **{key: self._number(rule, key, "rule.", _MOST.get(key, math.inf)) for key in _RULES},
        )

    def _only(self, table: Mapping[str, Any], keys: tuple[str, ...], where: str) -> None:
        for key in table:
            if key not in keys:
                raise BadPaper(f"{self._name}: {where}{key}: unknown key, the keys are {', '.join(keys)}")

    def _table(self, key: str) -> Mapping[str, Any]:
        found = self._read.get(key)
        if not isinstance(found, dict):
            raise BadPaper(f"{self._name}: {key}: must be a table")
        return found

    def _number(self, table: Mapping[str, Any], key: str, where: str, most: float = math.inf) -> float:
        found = table.get(key)
        if isinstance(found, bool) or not isinstance(found, int | float) or not 0 <= found < math.inf or found > most:
            right = "zero or above" if most == math.inf else f"from 0 to {most:g}"
            raise BadPaper(f"{self._name}: {where}{key}: must be a number, {right}")
        return float(found)

    def _deadline(self, found: object) -> datetime | None:
        try:
            at = datetime.fromisoformat(found) if isinstance(found, str) and found else found
        except ValueError:
            at = False
        if at == "":
            return None
        if not isinstance(at, datetime) or at.tzinfo is None:
            raise BadPaper(f"{self._name}: rule.deadline: must be a time with its zone, such as 2026-06-01T18:00:00Z")
        return at


_RULES = (
    "deviation_share",
    "order_points_each",
    "ask_points_each",
    "left_points_each",
    "cut_short_points",
    "late_points_per_day",
)

_MOST = {"deviation_share": 1.0}
"""The largest figure of a rule that has one [no unit]: a share of points is never more than all of them."""
