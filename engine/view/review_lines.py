"""A review as lines of plain text: the table, a cohort, the history of one boat or trailer."""

from collections.abc import Iterator, Mapping

from engine.procedure.model import Procedure
from engine.quantity import show
from engine.review.cohort import Spread
from engine.review.desk import Cohort, Desk, Past
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


def cohort_lines(cohort: Cohort) -> Iterator[str]:
    """Yield what is said of one cohort."""
    asks = _asks(cohort.procedure)
    yield f"{cohort.name}, revision {cohort.revision}: {count(cohort.count, 'log')}"
    yield "Steps that go wrong:" if cohort.troubles else "No step goes wrong."
    yield from (f"  {t.wrong} of {t.of}: {asks.get(t.step, t.step)}" for t in cohort.troubles)
    for fault in cohort.faults:
        yield f"Planted: {fault.says}: found by {len(fault.found)} of {len(fault.found) + len(fault.missed)}"
        yield from (f"  not found by {name}" for name in fault.missed)
    yield "Readings, from the lowest to the highest:" if cohort.spreads else "Too few logs to tell how readings spread."
    for spread in cohort.spreads:
        yield from _spread_lines(spread, asks)
    yield "Equal beyond chance:" if cohort.alike else "No two logs are equal beyond chance."
    for pair in cohort.alike:
        share = f"{len(pair.equal)} of {pair.comparable} measured values show the same digits"
        yield f"  {pair.one} and {pair.other}: {share} (chance {pair.tail:.1g} on two benches)"
        yield f"    equal: {'; '.join(asks.get(entry, entry) for entry in pair.equal)}"


def past_lines(past: Past) -> Iterator[str]:
    """Yield the history of one asset: what each swap changed, by log, and how readings moved."""
    yield f"{past.asset}: {count(len(past.changes), 'session')}"
    for log, lines in past.changes.items():
        yield f"{log}:" if lines else f"{log}: nothing was swapped"
        yield from (f"  {line}" for line in lines)
    yield "Readings over time:" if past.drifts else "No reading was taken in more than one session."
    for drift in past.drifts:
        yield f"  {drift.sentence}"
        yield f"    [{drift.strip}]"


def rules_lines(desk: Desk, profile: str) -> Iterator[str]:
    """Yield the verdicts that another rule profile would change, log by log."""
    for name, changed in desk.other_rules(profile):
        yield f"{name}: {len(changed)} verdicts would differ under {profile}"
        yield from (f"  {verdict}" for verdict in changed)


def _asks(procedure: Procedure | None) -> dict[str, str]:
    if procedure is None:
        return {}
    asks = {entry.id: entry.ask for entry in procedure.entry_by_id.values()}
    return asks | {step.id: step.title for step in procedure.steps}


def _spread_lines(spread: Spread, asks: Mapping[str, str]) -> Iterator[str]:
    known = f", the rig has {_value(spread.known, spread.unit)}" if spread.known is not None else ""
    middle = f"median {_value(spread.median, spread.unit)}, deviation {_value(spread.mad, spread.unit)}"
    yield f"  {asks.get(spread.entry, spread.entry)}: {spread.count} values, {middle}{known}"
    yield f"    {_value(spread.low, spread.unit)} [{spread.strip}] {_value(spread.high, spread.unit)}"
    if spread.far:
        yield f"    far out: {', '.join(spread.far)}"


def _value(number: float, unit: str) -> str:
    return show(number, unit, both=False)
