"""Values that one branch takes: used in another they are a doubt, used where no job takes them a fault."""

import pytest

from tests.procedure.sound import linted, of_step

READ = 'read.bare = { ask = "Bare length", mm = [0, 8, 20, 60], by = "cal"'
CHECK = 'check.strip = { depth = "depth", strip = "bare" }'


def strip(entry, check=""):
    when = f", when = '{entry}' }}" if entry else " }"
    old, new = of_step("strip", READ + " }", READ + when)
    return old, new.replace(CHECK, CHECK[:-2] + (f", when = '{check}' }}" if check else " }"))


@pytest.mark.parametrize(
    ("entry", "check"), [("taps > 0", "taps <= 0"), ("taps > 1", "taps == 1"), ('space == "yes"', 'space == "no"')]
)
def test_a_value_that_is_never_taken_where_it_is_used_is_a_fault(entry, check):
    (fault,) = linted(strip(entry, check)).faults
    assert fault.where == 'step "strip", check.strip'
    assert fault.sentence == "uses bare, which is taken in no job that comes here; turn one of the conditions"


@pytest.mark.parametrize(("entry", "check"), [("taps > 0", "taps > 0"), ("taps > 0", "taps > 1"), ("", "taps > 0")])
def test_a_value_that_is_taken_where_it_is_used_is_let_be(entry, check):
    report = linted(strip(entry, check))
    assert (report.faults, report.doubts) == ((), ())


def test_a_value_that_one_branch_takes_and_all_use_is_a_doubt():
    report = linted(strip("taps > 0"))
    assert report.faults == ()
    assert [d.sentence for d in report.doubts] == [
        "uses bare, which is only taken if taps > 0; give this the same condition"
    ]


def test_a_step_of_one_branch_that_uses_what_only_another_takes_is_a_fault():
    taps = 'fact.taps = { ask = "Old taps on the run", count = [0, 0, 1, 2] }'
    plan = 'fact.plan_bare = { ask = "Bare", mm = [0, 8, 20, 60], when = "taps <= 0" }'
    volts = 'read.v_tap = { ask = "Tap to the hull", V = [-100, -0.1, 0.1, 100] }'
    limit = 'limit.bare = { is = "plan_bare >= 5 mm", says = "long enough" }'
    (fault,) = linted((taps, f"{taps}\n{plan}"), (volts, f"{volts}\n{limit}")).faults
    assert fault.where == 'step "tap-volts", limit.bare, is'
    assert fault.sentence.startswith("uses plan_bare, which is taken in no job that comes here")
