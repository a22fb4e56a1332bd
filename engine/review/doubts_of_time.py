"""Doubts of time: what the clock was, and whether the work could be done, and the values be read, while it ran."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

from engine.procedure.model import Step
from engine.procedure.model_circuit import Since
from engine.review.doubts import Doubt, Record, minutes
from engine.review.pace import between_s, breaks_s, entries_of, seconds_on_task, until_end
from engine.session.events import ClockNoted, Stamped, Taken
from engine.session.state import Given
from engine.trade.heat import SOAK_S

MEASURED_S, ANSWER_S, WORK_S = 5.0, 1.5, 20.0
"""The least that one thing takes [s]: a value set up, read and typed; another answer; a step with hands on a part.

Project rules, far under what a quick hand needs: who is under the sum of them did not do the work while this log ran.
"""

RUN, RUN_S = 25, 3.5
"""So many measured values in a row [count] do not take less than this each [s]; a project rule."""

WAITS = {"pull": "seconds", "waited": "least"}
"""The checks that want a time to pass, and the input that says how long [s]; heat wants its own."""

EVEN, EVEN_S, EVEN_SHARE = 30, 0.5, 0.5
"""Of so many entries [count], a hand does not set this share [no unit] apart by one time, give or take half of this
[s]; a project rule. The paces of people spread by half of themselves."""


def doubts_of_time(record: Record) -> Iterator[Doubt]:
    """Yield what the clock throws doubt on."""
    if record.state.demo:
        yield Doubt("demo", "a demo: a job on invented facts")
    if record.clock != "system":
        yield Doubt("played", f"its times are not the machine's: clock {record.clock or 'not said'}")
    yield from _set_ahead(record)
    yield from _whole(record)
    if record.clock == "system":
        yield from _in_a_row(record)
        yield from _even(record)


def _spans(record: Record) -> Iterator[tuple[Step, Given, Given]]:
    """Yield each time that a check takes from the clock: its step, the value that begins it, the one that ends it."""
    for step in record.procedure.steps:
        spans = {o for check in step.checks for o in check.inputs.values() if isinstance(o, Since)}
        for span in sorted(spans, key=lambda span: span.end):
            start, end = record.state.given.get(span.start), record.state.given.get(span.end)
            if start is not None and end is not None:
                yield step, start, end


def _set_ahead(record: Record) -> Iterator[Doubt]:
    """Yield each time that a check takes from the clock, and in which the clock was set ahead."""
    for step, start, end in _spans(record):
        ahead_s = _ahead_s(record.events[start.n : end.n])
        if ahead_s > 0:
            steady = minutes(max(0.0, record.events[end.n - 1].mono - record.events[start.n - 1].mono))
            told = f"{step.title}: the clock was set ahead by {minutes(ahead_s)} in it"
            yield Doubt("clock", f"{told}; {steady} passed by the steady one")


def _ahead_s(events: Sequence[Stamped]) -> float:
    return sum(item.event.ahead_s for item in events if isinstance(item.event, ClockNoted))


def _whole(record: Record) -> Iterator[Doubt]:
    """Yield whether the job took less than its values, its work and its waits need at the least.

    A break counts only where the job waits for something: the program may be closed while a plug gets warm.
    """
    measured = sum(1 for entry in record.state.given if record.is_measured(entry))
    others = len(record.state.given) - measured
    work = sum(1 for s in record.procedure.steps if s.id in record.state.done and (s.works or s.hands_on))
    hands_s = MEASURED_S * measured + ANSWER_S * others + WORK_S * work
    waits_s = _waits_s(record)
    waited_s = sum(sum(breaks_s(record.events[start.n : end.n])) for _, start, end in _spans(record))
    took_s = max(0.0, seconds_on_task(record.events) + waited_s - _ahead_s(until_end(record.events)))
    if took_s < hands_s + waits_s:
        yield Doubt(
            "pace",
            f"the job took {minutes(took_s)} on the clock; to read {measured} values, answer {others} questions, do "
            f"{work} steps of hand work and wait {minutes(waits_s)} takes {minutes(hands_s + waits_s)} at the least",
        )


def _waits_s(record: Record) -> float:
    """Return the time for which the checks that were made let something pull, air or get warm [s]."""
    told = [finding.inputs.get(name) for check, name in WAITS.items() for finding in record.of_check(check)]
    waited_s = sum(float(s) for s in told if isinstance(s, int | float) and not isinstance(s, bool))
    return waited_s + SOAK_S * sum(1 for _ in record.of_check("heat"))


def _in_a_row(record: Record) -> Iterator[Doubt]:
    """Yield the quickest run of measured values, if no hand reads them so quickly."""
    entries = entries_of(record.events)
    times = [0.0]
    for before, here in zip([record.events[:1], *entries], entries, strict=False):
        times.append(times[-1] + max(0.0, between_s(before[-1], here[0])))
    read = [
        (at, item) for at, group in zip(times[1:], entries, strict=True) for item in group if _is_read(record, item)
    ]
    if len(read) <= RUN:
        return
    least = min(range(len(read) - RUN), key=lambda n: read[n + RUN][0] - read[n][0])
    took_s = read[least + RUN][0] - read[least][0]
    if took_s < RUN * RUN_S:
        first, last = read[least + 1][1].n, read[least + RUN][1].n
        yield Doubt(
            "pace", f"{RUN} measured values, events {first} to {last}, came within {minutes(took_s)}: "
            f"{took_s / RUN:.1f} s each to set, read and type",
        )  # fmt: skip


def _is_read(record: Record, item: Stamped) -> bool:
    return isinstance(item.event, Taken) and record.is_measured(item.event.entry)


def _even(record: Record) -> Iterator[Doubt]:
    """Yield whether the entries came as evenly as no hand types."""
    entries = entries_of(record.events)
    apart = sorted(between_s(a[-1], b[0]) for a, b in pairwise(entries))
    if len(apart) < EVEN:
        return
    same = max((_within(apart, at) for at in range(len(apart))), key=len)
    if len(same) >= EVEN_SHARE * len(apart):
        yield Doubt(
            "even", f"{len(same)} of {len(apart)} entries came {median(same):.1f} s after the one before, "
            f"give or take {(same[-1] - same[0]) / 2:.1f} s",
        )  # fmt: skip


def _within(apart: Sequence[float], at: int) -> Sequence[float]:
    end = at
    while end < len(apart) and apart[end] <= apart[at] + EVEN_S:
        end += 1
    return apart[at:end]
