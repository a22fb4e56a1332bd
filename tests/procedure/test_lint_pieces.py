"""Pieces: each that is made is proved after that, by something that is judged, and mended by what was made."""

import pytest

from tests.procedure.sound import linted, of_step

BARE = 'read.rings_firm = { ask = "No ring turns", good = "yes" }\n'


@pytest.mark.parametrize(
    ("changes", "where", "says"),
    [
        (
            [of_step("strip", 'makes = ["ends"]', 'works = ["ends"]')],
            'step "strip", works',
            'works on "ends" and in some job no step proves it',
        ),
        ([of_step("connect", 'makes = ["posts"]', 'works = ["posts"]')], "piece.posts", "no step proves it"),
        (
            [
                of_step("strip", 'makes = ["ends"]', 'proves = ["ends"]'),
                of_step("cut", 'works = ["ends"]', 'works = ["joint"]'),
            ],
            "piece.ends",
            "no step works on it",
        ),
        (
            [('ends = { name = "the cut ends" }', 'ends = { name = "the cut ends" }\nlid = { name = "a lid" }')],
            "piece.lid",
            "no step works on it",
        ),
        (
            [of_step("connect", BARE, 'read.rings_firm = { ask = "No ring turns", of = "yes/no" }\n')],
            'step "connect", proves',
            "proves something and judges nothing",
        ),
        ([of_step("pull", 'proves = ["joint"]\n', "")], 'step "pull", check.pull', "the step proves no piece"),
        (
            [of_step("pull", 'works = ["joint"] }', 'works = ["circuit"] }')],
            'step "pull", mend',
            'opens "circuit", on which no step before works',
        ),
        (
            [
                of_step(
                    "load-test",
                    'mend.hot = { says = "Open what is hot, make it again", works = ["joint", "posts"] }\n',
                    "",
                )
            ],
            'step "load-test", check.measured-drop',
            "say what is opened in mend",
        ),
    ],
)
def test_what_is_unproved_is_told_at_its_place(changes, where, says):
    faults = linted(*changes).faults
    assert any(where in fault.where and says in fault.sentence for fault in faults), "\n".join(map(str, faults))


def test_a_proof_in_some_jobs_only_is_told():
    (fault,) = linted(of_step("strip", 'makes = ["ends"]', 'makes = ["ends"]\nwhen = "taps > 0"')).faults
    assert 'step "cut", works' in fault.where
    assert "in some job no step proves it" in fault.sentence
