"""The linter finds what makes a procedure unsafe to hand out, each with file, line and place."""

import pytest

from tests.procedure.linting import faults, linted
from tests.procedure.small import BLOCK, SMALL, changed

TITLE = 'title = "Strip"'
LAST = 'closes = ["covers"]'


def strip_with(line: str) -> str:
    """Return the small procedure with a line more in the step that strips; it is line 53."""
    return changed(TITLE, f"{TITLE}\n{line}")


def last_with(line: str) -> str:
    """Return the small procedure with a line more in its last step; it is line 76."""
    return changed(LAST, f"{LAST}\n{line}")


def test_a_sound_procedure_has_neither_fault_nor_doubt() -> None:
    assert (linted().faults, linted().doubts) == ((), ())


def test_a_gate_that_comes_later_is_a_fault() -> None:
    text = changed('title = "Covers on"', 'title = "Covers on"\nneeds = []', strip_with('needs = ["covers-on"]'))
    assert faults(text) == [
        'small.toml: line 53, step "strip", needs: needs "covers-on", which comes later; move one of the two'
    ]


def test_a_step_whose_condition_cannot_hold_is_never_reached() -> None:
    assert faults(strip_with('when = "motor_current > 200 A"')) == [
        'small.toml: line 53, step "strip", when: no values that are taken can meet this condition; '
        "the step is never reached"
    ]


def test_a_step_that_needs_one_never_reached_is_a_fault() -> None:
    text = changed(LAST, f'{LAST}\nneeds = ["strip"]', strip_with('when = "motor_current > 200 A"'))
    assert 'small.toml: line 77, step "covers-on", needs: needs "strip", which is never reached' in faults(text)


def test_a_reading_used_before_it_is_taken_is_a_fault() -> None:
    text = changed("check.plan = {}", 'check.plan = {}\nlimit.early = { is = "strip_length > 5 mm", says = "x" }')
    assert faults(text) == [
        'small.toml: line 41, step "plan", limit.early, is: uses strip_length before it is taken; take '
        "it in this step or an earlier one"
    ]


def test_words_offered_from_a_reading_that_comes_later_are_a_fault() -> None:
    words = 'check.plan = {}\nread.tag = { ask = "Words", of = "words", offers = ["<strip_length>"] }'
    (fault,) = faults(changed("check.plan = {}", words))
    assert fault.endswith("offers: uses strip_length before it is taken; take it in this step or an earlier one")


def test_a_condition_on_a_reading_that_comes_later_is_a_fault() -> None:
    assert faults(changed('title = "The plan"', 'title = "The plan"\nwhen = "strip_length > 5 mm"')) == [
        'small.toml: line 33, step "plan", when: uses strip_length before it is taken; take it in '
        "this step or an earlier one"
    ]


def test_a_check_on_a_reading_that_comes_later_is_a_fault_at_the_borrow() -> None:
    text = last_with('read.later = { ask = "x", V = [0, 8, 20, 60] }').replace('nominal = "12 V"', 'nominal = "later"')
    assert faults(text) == [
        'small.toml: line 43, step "prove-dead", check.dead, in block "prove-dead" line 22: uses later before it is '
        "taken; take it in this step or an earlier one"
    ]


def test_the_plan_before_a_fact_of_the_circuit_is_asked_is_a_fault() -> None:
    row = 'fact.wire_size = { ask = "Size printed on the wire", of = "wire" }\n'
    assert faults(changed(LAST, f"{LAST}\n{row}", changed(row, ""))) == [
        'small.toml: line 39, step "plan", check.plan: uses wire_size before it is taken; take it '
        "in this step or an earlier one"
    ]


@pytest.mark.parametrize(
    ("limit", "sentence"),
    [
        ("strip_length >= 0 mm", "every value in the hard range meets it; tighten the limit or widen the range"),
        ("strip_length > 60 mm", "no value in the hard range can meet it; mend the limit or the range"),
        ("strip_length + barrel_depth < 5 mm", "no value in the hard range can meet it; mend the limit or the range"),
        (
            "strip_length < 61 mm or strip_length > 5 mm",
            "every value in the hard range meets it; tighten the limit or widen the range",
        ),
    ],
)
def test_a_limit_that_says_nothing_is_a_fault(limit: str, sentence: str) -> None:
    text = changed("strip_length >= barrel_depth - 1 mm", limit)
    assert faults(text) == [f'small.toml: line 66, step "strip", limit.length, is: {sentence}']


def test_a_limit_of_a_row_that_says_nothing_is_a_fault_at_its_row() -> None:
    assert faults(changed('by = "cal"', 'by = "cal", most = 60, says = "x"')) == [
        'small.toml: line 64, step "strip", read.strip_length, most: every value in the hard range meets it; '
        "tighten the limit or widen the range"
    ]


def test_a_limit_at_the_very_edge_of_the_range_is_none() -> None:
    assert faults(changed("strip_length >= barrel_depth - 1 mm", "strip_length < 60 mm")) == []


def test_an_over_range_reading_may_pass_every_limit() -> None:
    text = changed("strip_length >= barrel_depth - 1 mm", "strip_length > 60 mm")
    assert faults(changed('by = "cal"', "over_range = true", text)) == []


def test_a_condition_that_always_holds_is_a_fault() -> None:
    assert faults(strip_with('when = "motor_current > 1 A"')) == [
        'small.toml: line 53, step "strip", when: this condition always holds in the hard ranges; '
        "mend it or take it out"
    ]


def test_a_condition_of_an_entry_that_never_holds_is_a_fault() -> None:
    assert faults(changed('by = "cal"', 'when = "motor_current > 200 A"')) == [
        'small.toml: line 64, step "strip", read.strip_length, when: this condition never holds in the hard ranges; '
        "mend it or take it out"
    ]


def test_a_hold_without_evidence_is_a_fault() -> None:
    assert faults(last_with('hold = "hold"')) == [
        'small.toml: line 76, step "covers-on", hold: a hold ends on evidence; give it a reading, a '
        "check, a limit or parts"
    ]


def test_a_firm_hold_on_a_figure_from_memory_is_a_fault() -> None:
    text = changed('hold = "hold"\nhands_on', 'hold = "firm"\nhands_on').replace(', from = "barrel"', "")
    assert [fault.split(": ")[1] for fault in faults(text)] == [
        'line 65, step "strip", read.strands, good',
        'line 65, step "strip", read.strands, bearable',
        'line 66, step "strip", limit.length, is',
    ]


@pytest.mark.parametrize(
    ("way", "verb"),
    [
        ('irreversible = "cut"\ndo = "Part the wire."', "cut"),
        ('do = "Cut the wire."', "cut"),
        ('do = "Drill the hole."', "drill"),
    ],
)
def test_an_irreversible_step_without_a_gate_is_a_fault(way: str, verb: str) -> None:
    found = faults(changed('do = "Strip the end."', f"{way}\nneeds = []"))
    assert [fault for fault in found if "undone" in fault] == [
        f'small.toml: line 50, step "strip": "{verb}" cannot be undone and nothing is checked before it; needs a '
        "step that measures"
    ]


def test_a_gate_that_measures_nothing_is_no_gate_for_a_cut() -> None:
    look = '[[section.step]]\nid = "look"\ndo = "Look."\nwhy = "So."\nneeds = []\n\n'
    text = changed('[[section.step]]\nid = "strip"', f'{look}[[section.step]]\nid = "strip"')
    assert any(
        "nothing is checked before it" in fault for fault in faults(changed('"Strip the end."', '"Cut it."', text))
    )


def test_the_steps_before_are_a_gate() -> None:
    assert faults(changed('do = "Strip the end."', 'do = "Cut the end."')) == []


def test_an_item_that_is_never_finished_is_a_fault() -> None:
    assert faults(changed(f"{LAST}\n", "")) == [
        'small.toml: line 62, step "strip", opens.covers: "covers" is never finished; a later step '
        "must have it in its closes"
    ]


def test_an_item_that_is_finished_before_it_is_opened_is_a_fault() -> None:
    text = changed('title = "The plan"', f'title = "The plan"\n{LAST}', changed(f"{LAST}\n", ""))
    wanted = 'small.toml: line 33, step "plan", closes: finishes "covers" before it is left to do; move the step down'
    assert wanted in faults(text)


def test_what_the_loader_finds_stands_in_the_report() -> None:
    assert faults(changed('revision = "1"', "revision = 1")) == [
        "small.toml: line 4, revision: is a whole number, should be a string"
    ]


def test_the_loaders_faults_and_the_linters_are_told_at_once() -> None:
    assert len(faults(changed(f"{LAST}\n", "").replace('revision = "1"', "revision = 1"))) == 2


def test_a_limit_that_does_not_say_what_must_hold_is_a_fault() -> None:
    (fault,) = faults(changed('is = "strip_length >= barrel_depth - 1 mm", ', ""))
    assert fault.endswith('limit.length: "is" is missing: what must hold')


def test_a_step_that_could_not_be_read_is_not_judged_too() -> None:
    text = changed("strip_length >= barrel_depth - 1 mm", "strip_length >= barrel - 1 mm")
    assert len(faults(changed('hold = "hold"\nhands_on', 'hold = "firm"\nhands_on', text))) == 1


def test_a_fault_of_a_block_is_told_at_the_borrow() -> None:
    block = BLOCK[: BLOCK.index("read.known_before")]
    text = SMALL.replace('"pair", "hull"', '"taps"')
    assert faults(text, prove_dead=block) == [
        'small.toml: line 43, step "prove-dead", hold, in block "prove-dead" line 15: a hold ends on evidence; give it '
        "a reading, a check, a limit or parts",
        'small.toml: line 43, step "prove-dead", proves_dead, in block "prove-dead" line 17: proves "run" dead, and no '
        "step of this proof has a dead check; give it check.dead",
    ]
