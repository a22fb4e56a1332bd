"""Limits over the answers there are: met by all, by none, by a reversed sign, or not by the usual one."""

import pytest

from tests.procedure.sound import linted, of_step


def strip(limit):
    return of_step("strip", "check.strip", f"limit.x = {limit}\ncheck.strip")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            strip("""{ is = 'copper == "bright" or copper == "dull"', says = "x" }"""),
            "every value in the hard range meets it",
        ),
        (
            strip("""{ is = 'copper == "bright" and copper == "dull"', says = "x" }"""),
            "no value in the hard range can meet it",
        ),
        (
            strip("""{ is = 'copper != "dull" or bare >= 0 mm', says = "x" }"""),
            "every value in the hard range meets it",
        ),
        (
            strip("""{ is = 'copper == "dull" and bare > 60 mm', says = "x" }"""),
            "no value in the hard range can meet it",
        ),
        (
            of_step("polarity", "check.polarity", 'limit.x = { is = "v_sign <= 15 V", says = "x" }\ncheck.polarity'),
            "reversed volts of v_sign meet it too; write abs(v_sign)",
        ),
        (
            of_step("polarity", "V = [-100, 11, 28, 100]", 'V = [-100, 11, 28, 100], most = 15, says = "x"'),
            "reversed volts of v_sign meet it too",
        ),
    ],
)
def test_a_limit_that_says_nothing_is_a_fault(change, says):
    faults = linted(change).faults
    assert any(says in fault.sentence for fault in faults), "\n".join(map(str, faults))


@pytest.mark.parametrize(
    "limit",
    ["v >= 11 V and v <= 15 V", "abs(v) <= 15 V", "11 V <= v <= 15 V", "v >= 11 V", "v - 2 V <= 13 V or v > 0 V"],
)
def test_volts_that_are_bound_on_both_sides_are_let_be(limit):
    rows = f'read.v = {{ ask = "V", V = [-100, 11, 14, 100] }}\nlimit.x = {{ is = "{limit}", says = "x" }}\n'
    assert linted(of_step("connect", "read.rings_firm", f"{rows}read.rings_firm")).faults == ()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            of_step("strip", 'good = ["bright"]', 'good = ["dull"]'),
            "the first answers do not meet it; put the good answer first",
        ),
        (
            of_step("connect", 'good = "yes"', 'good = "no"'),
            "the first answers do not meet it; put the good answer first",
        ),
        (
            of_step("strip", "mm = [0, 8, 20, 60]", 'mm = [0, 8, 20, 60], most = 10, says = "x"'),
            "usual values do not meet it",
        ),
        (strip('{ is = "bare != 10 mm", says = "x" }'), "a number is almost never equal"),
    ],
)
def test_a_limit_that_the_usual_answer_misses_is_a_doubt(change, says):
    report = linted(change)
    assert report.status == 1
    assert [says in doubt.sentence for doubt in report.doubts] == [True]
