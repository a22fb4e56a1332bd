"""Forgeries of the state of the work: a gap, a STOP, a route, a source or a clock that a log would rather not tell."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import pytest

from engine.review.replay import replay
from engine.session import commands as c
from engine.session.codec import from_flat
from engine.session.outcome import Recorded
from tests.procedures.playing import Job, clean_job

Events = list[dict[str, Any]]
Change = Callable[[Events], Events]


def after_a_gap(volts: str) -> Job:
    """Return a job that went on after half an hour, with what was measured once more where hands go."""
    job = clean_job("tern-14", "look-behind")
    job.clock.true_s += 1800
    assert isinstance(job.send(c.StayedWith(volts)), Recorded)
    job.send(c.HandsOff())
    return job


def went_on() -> Job:
    job = after_a_gap("0.01")
    job.on("look-behind")
    return job


def stopped() -> Job:
    """Return a job in which a point read live, and dead after a charger was found."""
    job = clean_job("tern-14", "prove-dead")
    job.give(dead_pair="11.9")
    job.send(c.HandsOff())
    job.give(dead_pair="0.00")
    job.on("prove-dead")
    return job


def cut_again() -> Job:
    job = clean_job("whimbrel", "sources-on")
    job.send(c.Redo("cut"))
    return job


def mended() -> Job:
    job = clean_job("whimbrel", "sources-on")
    job.send(c.Redo("polarity", 1))
    return job


def dropped() -> Job:
    """Return a job that closed although a spare end had read live: there are said to be no taps any more."""
    job = clean_job("grey-heron", "spare-a")
    job.give(spare_a_negative="12.5", spare_a_positive="0.00", loaded_a_negative="12.5")
    job.send(c.HandsOff())
    job.send(c.Correct("taps", "0", "miscounted"))
    job.on()
    return job


def connected() -> Job:
    return clean_job("tern-14", "fuse-in")


def handed_over() -> Job:
    job = clean_job("tern-14", "look-behind")
    job.send(c.HandOver("D. Fen"))
    return job


def heated() -> Job:
    job = clean_job("tern-14", "heat-test")
    job.on("heat-test")
    return job


def set_ahead() -> Job:
    """Return a job whose clock was set ahead, so that ten minutes seem to pass at once."""
    job = clean_job("tern-14", "heat-test")
    job.until_asked("t_positive")
    job.clock.set_by_s += 600
    job.give(t_positive="31.0")
    return job


STOP = {"event": "halted", "step": "connect", "sentence": "volts", "hands": "Off."}


def without(**wanted: object) -> Change:
    """Leave out every such event."""
    return lambda events: [e for e in events if any(e.get(key) != value for key, value in wanted.items())]


def setting(changes: dict[str, object], **wanted: object) -> Change:
    """Change the last such event."""

    def change(events: Events) -> Events:
        last = [e for e in events if all(e.get(key) == value for key, value in wanted.items())][-1]
        return [{**e, **changes} if e is last else e for e in events]

    return change


def both(*changes: Change) -> Change:
    def change(events: Events) -> Events:
        for each in changes:
            events = each(events)
        return events

    return change


def later(seconds: int, **wanted: object) -> Change:
    """Say that an event, and all that follow, were later by the wall clock."""

    def change(events: Events) -> Events:
        at = next(n for n, e in enumerate(events) if all(e.get(key) == value for key, value in wanted.items()))
        moved = [
            {**e, "at": (datetime.fromisoformat(e["at"]) + timedelta(seconds=seconds)).isoformat()} for e in events[at:]
        ]
        return [*events[:at], *moved]

    return change


def problems(job: Job, change: Change) -> list[str]:
    events = [{**event, "n": n} for n, event in enumerate(change([dict(e) for e in job.journal.events]), start=1)]
    return replay(job.procedure, [from_flat(event) for event in events]).problems


FORGED: dict[str, tuple[Callable[[], Job], Change, str]] = {
    "a gap left out": (went_on, without(event="gap"), "nothing was entered for 30 min before it, and the log does not"),
    "a gap made short": (went_on, setting({"gap_s": 60.0}, event="gap"), "gap_s is 60.0, should be 1820.0"),
    "a proof kept over a gap": (went_on, setting({"doubted": []}, event="gap"), "doubted is none, should be known-sou"),
    "nobody stayed": (went_on, without(event="stayed"), "once more where hands go"),
    "a live reading told as dead": (
        lambda: after_a_gap("11.9"), setting({"number": 0.0}, event="stayed"), "number is 0.0, should be 11.9",
    ),
    "a live reading that ends nothing": (
        lambda: after_a_gap("11.9"), setting({"ended": []}, event="stayed"), "ended is none, should be",
    ),
    "a live reading without a STOP": (
        lambda: after_a_gap("11.9"), both(without(event="halted"), without(event="hands_off")),
        "the log should say STOP after it: 11.9 V where hands go",
    ),
    "a STOP left out": (
        stopped,
        both(without(event="halted"), without(event="hands_off")),
        "the log should say STOP before it: Feed stud, and the free way, to the",
    ),
    "a STOP and its finding left out": (
        stopped,
        both(without(event="halted"), without(event="hands_off"), without(event="finding", verdict="fail")),
        "the log should say STOP before it",
    ),
    "a STOP with other words": (stopped, setting({"hands": "Go on."}, event="halted"), "hands is Go on., should be"),
    "a STOP that was not answered": (stopped, without(event="hands_off"), "a STOP stood, and was not answered"),
    "a STOP that nothing asks for": (
        connected,
        lambda events: [*events, {**STOP, "at": events[-1]["at"], "mono": events[-1]["mono"]}],
        "nothing before it hurts",
    ),
    "a route that is shortened": (
        cut_again, setting({"voided": ["polarity"]}, event="redone"), "voided is polarity, should be",
    ),
    "a remedy under another name": (
        mended, setting({"mend": "wipe it"}, event="redone", step="polarity"), "mend is wipe it, should be",
    ),
    "a fail that no longer stands": (dropped, setting({"standing": []}, event="closed"), "standing is none, should be"),
    "a fail that closes clean": (
        dropped, setting({"standing": [], "clean": True}, event="closed"), "clean is True, should be False",
    ),
    "a source that feeds nothing": (connected, without(event="fed"), "connect feeds a zone"),
    "a source that ends nothing": (connected, setting({"ended": []}, event="fed"), "ended is none, should be sources-"),
    "a newcomer's proof": (handed_over, setting({"ended": []}, event="person"), "ended is none, should be known-sourc"),
    "minutes that the clock did not see": (
        heated, setting({"values": ["x = 60"]}, event="finding", key="heat"), "heat: recorded values x = 60",
    ),
    "minutes that only the wall clock saw": (
        heated, later(600, event="reading", entry="t_positive"), "clock and steady seconds come apart by 600 s",
    ),
    "a clock set ahead left out": (set_ahead, without(event="clock"), "clock and steady seconds come apart by 600 s"),
}  # fmt: skip


@pytest.mark.parametrize("made", dict.fromkeys(made for made, _, _ in FORGED.values()))
def test_before_it_is_forged_nothing_is_against_the_log(made: Callable[[], Job]) -> None:
    assert made().problems() == []


@pytest.mark.parametrize("forged", FORGED)
def test_a_forgery_does_not_come_out_again(forged: str) -> None:
    made, change, sentence = FORGED[forged]
    found = problems(made(), change)
    assert any(sentence in problem for problem in found), found
