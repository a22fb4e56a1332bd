"""The jobs that a procedure can become: every set of steps that its conditions allow, and no other."""

from itertools import product

import pytest

from engine.procedure import jobs as module
from engine.procedure.jobs import TooManyJobs, jobs
from engine.procedure.limit import parse
from engine.procedure.model import Entry, Procedure, Step

ENTRIES = (
    Entry(id="taps", ask="", unit="", hard=(0.0, 3.0)),
    Entry(id="new", ask="", unit="yes/no"),
    Entry(id="kind", ask="", unit="choice", choices=("a", "b", "c")),
    Entry(id="volts", ask="", unit="V", hard=(0.0, 60.0)),
    Entry(id="size", ask="", unit="wire"),
    Entry(id="other", ask="", unit="wire"),
)
UNITS = {entry.id: entry.unit for entry in ENTRIES}
CHOICES = {"kind": ("a", "b", "c")}


def procedure(*whens):
    steps = [Step(id="ask", section="s", title="", action="", why="", asks=tuple(UNITS))]
    steps += [
        Step(id=f"s{n}", section="s", title="", action="", why="", when=parse(w, UNITS, CHOICES) if w else None)
        for n, w in enumerate(whens)
    ]
    return Procedure(id="p", title="", revision="", summary="", scope="", facts=ENTRIES, steps=tuple(steps))


def found(*whens):
    work = procedure(*whens)
    return {frozenset(s.id for s in job) for job in jobs(work, work.steps[1:])}


@pytest.mark.parametrize(
    ("whens", "expected"),
    [
        (("",), [{"s0"}]),
        (("taps > 0", "taps > 1"), [set(), {"s0"}, {"s0", "s1"}]),
        (('new == "yes"', "taps > 0"), [set(), {"s0"}, {"s1"}, {"s0", "s1"}]),
        (('kind == "a"', 'kind != "c"'), [set(), {"s1"}, {"s0", "s1"}]),
        (("volts > 12 V", "volts >= 12 V", "volts < 12 V"), [{"s2"}, {"s1"}, {"s0", "s1"}]),
        (("size != other", "size == other"), [{"s0"}, {"s1"}]),
        (("taps > 1 or volts > 50 V", "taps > 1 and volts > 50 V"), [set(), {"s0"}, {"s0", "s1"}]),
    ],
)
def test_every_set_of_steps_is_found_and_no_other(whens, expected):
    assert found(*whens) == {frozenset(each) for each in expected}


def test_what_is_only_asked_in_one_branch_turns_only_there():
    asked = Entry(id="inner", ask="", unit="yes/no", when=parse("taps > 0", UNITS))
    work = procedure('new == "yes"')
    inner = Step(id="in", section="s", title="", action="", why="", when=parse('inner == "yes"', {"inner": "yes/no"}))
    taps = Step(id="taps", section="s", title="", action="", why="", when=parse("taps > 0", UNITS))
    steps = (*work.steps, taps, inner)
    work = Procedure(
        id="p",
        title="",
        revision="",
        summary="",
        scope="",
        facts=(*ENTRIES, asked),
        steps=(Step(id="ask", section="s", title="", action="", why="", asks=(*UNITS, "inner")), *steps[1:]),
    )
    both = {frozenset(s.id for s in job) & {"taps", "in"} for job in jobs(work, work.steps[1:])}
    assert both == {frozenset(), frozenset({"taps"}), frozenset({"taps", "in"})}


def test_the_sets_are_those_of_every_answer_there_is():
    """Against a plain product of all answers, counted out one by one."""
    whens = ("taps > 1", 'kind == "b" or taps == 3', 'not new == "yes" and kind != "a"')
    work = procedure(*whens)
    ways = product(map(float, range(4)), (True, False), CHOICES["kind"])
    plain = {
        frozenset(s.id for s in work.steps[1:] if s.when.holds(dict(zip(("taps", "new", "kind"), way, strict=True))))
        for way in ways
    }
    assert found(*whens) == plain


def test_more_ways_than_are_tried_are_said(monkeypatch):
    monkeypatch.setattr(module, "MOST_WAYS", 3)
    with pytest.raises(TooManyJobs):
        found("taps > 0", 'new == "yes"', 'kind == "a"')
