"""How readings are taken: all points, the sign, one minute, the second reading that an answer calls for, fresh."""

import pytest

from tests.procedure.sound import linted, of_step

PAIR = 'read.v_pair = { ask = "Across the two wires", V = [-100, -0.1, 0.1, 100] }\n'
DEAD = 'check.dead.known_before = "known_before"\n'
PULL = 'check.pull = { size = "size", method = "hand", slip = "slip", kind = "crimp" }'
METHOD = 'read.how = { ask = "How", one_of = ["scale", "hand"] }\n'


def loaded(when):
    row = f"read.again = {{ ask = \"Under a lamp\", V = [-100, -0.1, 0.1, 100], when = '{when}' }}\n"
    return of_step("prove-dead", DEAD, f'{row}{DEAD}check.dead.loaded = "again"\n')


def pulled(when):
    row = f"read.force = {{ ask = \"Pull\", N = [0, 40, 900, 1500], when = '{when}' }}\n"
    check = 'check.pull = { size = "size", method = "how", force = "force", slip = "slip", kind = "crimp" }'
    return of_step("pull", PULL, f"{METHOD}{row}{check}")


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (of_step("prove-dead", '"v_pair", ', ""), "read.v_pair", "is read where it must be dead, and no point"),
        (loaded("abs(v_pair) <= 0.1 V"), "check.dead, loaded", "again is not asked where it is wanted"),
        (pulled('how != "scale"'), "check.pull, force", "force is not asked where it is wanted"),
        (
            of_step(
                "connect",
                "read.rings_firm",
                'read.v = { ask = "V", V = [-9, 11, 13, 99], signed = true }\nread.rings_firm',
            ),
            "read.v",
            "its sign is asked for and nothing here judges it",
        ),
    ],
)
def test_what_is_not_taken_is_told(change, where, says):
    faults = linted(change).faults
    assert any(where in f.where and says in f.sentence for f in faults), "\n".join(map(str, faults))


@pytest.mark.parametrize("change", [loaded("max(abs(v_pair), abs(v_hull)) > 0.1 V"), pulled('how == "scale"')])
def test_a_second_reading_that_is_asked_where_it_is_wanted_is_let_be(change):
    assert linted(change).faults == ()


SNIFF = """id = "sniff"
title = "Sniff"
do = "Sniff low down."
why = "Vapour."
warn.WARNING = { hazard = "Vapour.", avoid = "Air it." }
read.smell = { ask = "Smell", one_of = ["none", "some"], good = ["none"] }
"""


def sniffed(lasts, needs):
    before = of_step("cut", 'id = "cut"', f'{SNIFF}{lasts}\n[[section.step]]\nid = "cut"')
    return before[0], before[1].replace('works = ["ends"]', f'works = ["ends"]\n{needs}')


def test_what_a_step_needs_fresh_grows_old_and_what_grows_old_is_needed():
    assert linted(sniffed('lasts = "1 h"\n', 'needs = ["sniff"]')).faults == ()
    (never,) = linted(sniffed("", 'needs = ["sniff"]')).faults
    assert (never.where, never.sentence) == (
        'step "sniff"',
        '"cut" needs it to stand still, and it never grows old; say how long it lasts',
    )
    (unneeded,) = linted(sniffed('lasts = "1 h"\n', "")).faults
    assert unneeded.where == 'step "sniff", lasts'
    assert unneeded.sentence.startswith("grows old and no step needs it")


def test_readings_that_a_limit_compares_are_of_one_minute():
    rows = (
        'read.t_a = { ask = "A", degC = [0, 10, 40, 90], group = "t" }\n'
        'read.t_b = { ask = "B", degC = [0, 10, 40, 90], group = "t" }\n'
        'read.t_c = { ask = "C", degC = [0, 10, 40, 90], group = "t" }\n'
        'limit.t = { is = "t_a - t_b <= 20 K or t_c <= 40 degC", says = "cool" }\nread.i_load'
    )
    assert linted(of_step("load-test", "read.i_load", rows)).doubts == ()
    (doubt,) = linted(of_step("load-test", "read.i_load", rows.replace('90], group = "t" }', "90] }", 1))).doubts
    assert "t_a is not of their minute; give them one group" in doubt.sentence


def test_a_group_of_one_is_a_doubt():
    change = of_step(
        "load-test", 'A = [0.05, 0.5, 20, 60], group = "load" }', 'A = [0.05, 0.5, 20, 60], group = "other" }'
    )
    assert any('only one reading belongs to "other"' in doubt.sentence for doubt in linted(change).doubts)
