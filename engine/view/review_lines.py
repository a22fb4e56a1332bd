"""A review as lines of plain text: the table, a cohort, the history of one boat or trailer."""

from collections.abc import Iterator, Mapping, Sequence

from engine.quantity import show
from engine.review.cohort import PlantedFault, Spread, StepTrouble
from engine.review.history import Drift
from engine.review.likeness import Alike
from engine.view.review import COLUMNS, ReviewView
from engine.view.words import count


def table_lines(view: ReviewView, *, why: bool = False) -> Iterator[str]:
    """Yield the sentence on all logs, then each log with what its cells say, and what to look at first."""
    yield view.sentence
    for number, line in enumerate(view.lines, start=1):
        log, person, asset, *rest = line.cells
        named = ", ".join(word for word in (log, person, asset) if word)
        told = ", ".join(f"{head} {cell}" for head, cell in zip(COLUMNS[3:], rest, strict=True))
        yield f"{number}. {named}: {told}"
        if line.first_bad:
            yield f"   look at: {line.first_bad}"
        if line.marked:
            yield f"   given: {line.marked}"
        yield from (f"   {reason}" for reason in (line.proposed if why else ()))


def cohort_lines(
    title: str,
    troubles: Sequence[StepTrouble],
    spreads: Sequence[Spread],
    alike: Sequence[Alike],
    faults: Sequence[PlantedFault],
    asks: Mapping[str, str],
) -> Iterator[str]:
    """Yield what is said of one cohort; ``asks`` are the words of entries and steps by id."""
    yield title
    yield "Steps that go wrong:" if troubles else "No step goes wrong."
    yield from (f"  {t.wrong} of {t.of}: {asks.get(t.step, t.step)}" for t in troubles)
    for fault in faults:
        yield f"Planted: {fault.says}: found by {len(fault.found)} of {len(fault.found) + len(fault.missed)}"
        yield from (f"  not found by {name}" for name in fault.missed)
    yield "Readings, from the lowest to the highest:" if spreads else "Too few logs to tell how readings spread."
    for spread in spreads:
        yield from _spread_lines(spread, asks)
    yield "Equal beyond chance:" if alike else "No two logs are equal beyond chance."
    yield from (f"  {pair.sentence}" for pair in alike)


def history_lines(asset: str, drifts: Sequence[Drift], changes: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Yield the history of one asset: what each swap changed, by log, and how readings moved."""
    yield f"{asset}: {count(len(changes), 'session')}"
    for log, lines in changes.items():
        yield f"{log}:" if lines else f"{log}: nothing was swapped"
        yield from (f"  {line}" for line in lines)
    yield "Readings over time:" if drifts else "No reading was taken in more than one session."
    for drift in drifts:
        yield f"  {drift.sentence}"
        yield f"    [{drift.strip}]"


def _spread_lines(spread: Spread, asks: Mapping[str, str]) -> Iterator[str]:
    known = f", the rig has {_value(spread.known, spread.unit)}" if spread.known is not None else ""
    middle = f"median {_value(spread.median, spread.unit)}, deviation {_value(spread.mad, spread.unit)}"
    yield f"  {asks.get(spread.entry, spread.entry)}: {spread.count} values, {middle}{known}"
    yield f"    {_value(spread.low, spread.unit)} [{spread.strip}] {_value(spread.high, spread.unit)}"
    if spread.far:
        yield f"    far out: {', '.join(spread.far)}"


def _value(number: float, unit: str) -> str:
    return show(number, unit, both=False)
