"""The history of one boat or trailer: what joints, drops and heat did over its sessions, and what a swap changed."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.finding import Verdict
from engine.quantity import show
from engine.review.audit import Audit
from engine.review.cohort import strip
from engine.review.page.circuit import circuit_lines
from engine.review.values import Measured, measured

WATCHED = ("joint", "measured-drop", "heat", "bank", "leak")
"""The checks whose readings tell how a circuit ages."""

PLAIN = 0.1
"""A change of less than this share of the earlier reading [no unit] is not called drift; a project rule."""


@dataclass(frozen=True, slots=True)
class Point:
    """One reading of one session: its log, date, and value in the base unit."""

    log: str
    on: str
    number: float


@dataclass(frozen=True, slots=True)
class Drift:
    """One reading over the sessions of an asset, oldest first.

    ``share`` is its change over the first [no unit], 1 where that was zero.
    """

    entry: str
    ask: str
    unit: str
    points: tuple[Point, ...]
    sentence: str
    strip: str
    share: float


def history(audits: Sequence[Audit]) -> tuple[Drift, ...]:
    """Return what the watched readings of one asset did between its sessions, the greatest change first.

    Args:
        audits: The audited sessions of one asset and one procedure, in any order.

    Returns:
        One line for each reading that at least two sessions have.
    """
    ordered = sorted((a for a in audits if a.trusted and a.procedure is not None), key=lambda a: a.began)
    found: dict[str, list[tuple[Audit, Measured]]] = {}
    for audit in ordered:
        watched = _watched(audit)
        for value in measured(audit):
            if value.entry in watched:
                found.setdefault(value.entry, []).append((audit, value))
    told = [_drift(entry, line) for entry, line in found.items() if len(line) > 1]
    return tuple(sorted(told, key=lambda drift: -abs(drift.share)))


def before_after(audit: Audit) -> tuple[str, ...]:
    """Return what a swap changed, part by part: figures and verdict as found, and as planned."""
    circuit = circuit_lines(audit)
    if circuit is None:
        return ()
    return tuple(
        f"{part.name}: {_told(part.found, part.found_verdict)} before, {_told(part.planned, part.verdict)} after"
        for part in circuit.parts
        if part.found != part.planned
    )


def _watched(audit: Audit) -> frozenset[str]:
    steps = audit.procedure.steps if audit.procedure else ()
    used = [check.entries for step in steps for check in step.checks if check.name in WATCHED]
    return frozenset().union(*used)


def _drift(entry: str, line: list[tuple[Audit, Measured]]) -> Drift:
    procedure = line[-1][0].procedure
    asked = procedure.entry_by_id[entry] if procedure else None
    points = tuple(Point(audit.name, (value.at or audit.began)[:10], value.number) for audit, value in line)
    numbers = [point.number for point in points]
    share = (numbers[-1] - numbers[0]) / abs(numbers[0]) if numbers[0] else float(numbers[-1] != 0)
    unit = asked.unit if asked else line[-1][1].unit
    told = [
        f"{show(p.number, unit, step=v.digit or None, both=False)} on {p.on}"
        for p, (_, v) in zip(points, line, strict=True)
    ]
    same = abs(share) < PLAIN or abs(numbers[-1] - numbers[0]) <= 2 * line[-1][1].digit
    way = "up" if numbers[-1] > numbers[0] else "down"
    words = "no drift" if same else f"{way} by {abs(share):.0%}" if numbers[0] else f"{way} from nothing"
    ask = asked.ask if asked else entry
    return Drift(
        entry,
        ask,
        unit,
        points,
        f"{ask}: {', '.join(told)}: {words}",
        strip(numbers, min(numbers), max(numbers)),
        share,
    )


def _told(figures: str, verdict: str) -> str:
    return f"{figures or 'not there'}{f' ({Verdict(verdict)})' if verdict else ''}"
