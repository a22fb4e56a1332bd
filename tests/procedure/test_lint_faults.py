"""The linter finds what makes a procedure unsafe to hand out, each with file, line and place."""

import pytest

from tests.procedure.linting import faults, linted
from tests.procedure.small import BLOCK, SMALL, changed

STRIP = 'small.toml: line 63, step "strip"'


def test_a_sound_procedure_has_neither_fault_nor_doubt() -> None:
    assert (linted().faults, linted().doubts) == ((), ())


def test_a_gate_that_comes_later_is_a_fault() -> None:
    text = changed('lasts = "12 h"', 'needs = ["covers-on"]')
    assert faults(text) == [
        'small.toml: line 71, step "strip", needs: needs "covers-on", which comes later; move one of the two'
    ]


def test_a_step_whose_condition_cannot_hold_is_never_reached() -> None:
    text = changed('lasts = "12 h"', 'when = "motor_current > 200 A"')
    assert faults(text) == [
        'small.toml: line 71, step "strip", when: no values that are taken can meet this condition; '
        "the step is never reached"
    ]


def test_a_step_that_needs_one_never_reached_is_a_fault() -> None:
    text = changed('lasts = "12 h"', 'when = "motor_current > 200 A"').replace(
        'closes = ["covers"]', 'closes = ["covers"]\nneeds = ["strip"]'
    )
    assert 'small.toml: line 100, step "covers-on", needs: needs "strip", which is never reached' in faults(text)


def test_a_reading_used_before_it_is_taken_is_a_fault() -> None:
    source = 'source = { authority = "practice", document = "common practice, no source", seen = "memory" }\n'
    limit = '[[step.limit]]\nis = "strip_length > 5 mm"\notherwise = "fail"\nsays = "x"\n' + source
    text = changed('name = "plan"\n', f'name = "plan"\n{limit}')
    assert faults(text) == [
        'small.toml: line 60, step "plan", limit 1, is: uses strip_length before it is taken; take '
        "it in this step or an earlier one"
    ]


def test_words_offered_from_a_reading_that_comes_later_are_a_fault() -> None:
    words = '\n  [[step.reading]]\n  id = "tag"\n  ask = "Words"\n  unit = "words"\n  offers = ["<strip_length>"]\n'
    (fault,) = faults(changed('name = "plan"\n', f'name = "plan"\n{words}'))
    assert fault.endswith("offers: uses strip_length before it is taken; take it in this step or an earlier one")


def test_a_condition_on_a_reading_that_comes_later_is_a_fault() -> None:
    text = changed('asks = ["motor_current"', 'when = "strip_length > 5 mm"\nasks = ["motor_current"')
    assert faults(text) == [
        'small.toml: line 56, step "plan", when: uses strip_length before it is taken; take it in '
        "this step or an earlier one"
    ]


def test_a_check_on_a_reading_that_comes_later_is_a_fault() -> None:
    assert faults(
        changed('nominal = "12 V"', 'nominal = "later"')
        .replace('id = "first-day"', 'id = "first-day"')
        .replace('id = "strip_length"', 'id = "later"')
        .replace(
            'unit = "mm"\n  hard = ["0 mm", "60 mm"]\n  likely = ["8 mm", "20 mm"]',
            'unit = "V"\n  hard = ["0 V", "60 V"]\n  likely = ["8 V", "20 V"]',
        )
        .replace("strip_length >= barrel_depth - 1 mm", "later >= 1 V")
    ) == [
        'blocks/prove-dead.toml: line 43, step "prove-dead", check "dead", with: uses later before it is taken; '
        "take it in this step or an earlier one"
    ]


def test_the_plan_before_a_fact_of_the_circuit_is_asked_is_a_fault() -> None:
    text = changed('"wire_size", "taps"', '"taps"').replace(
        'closes = ["covers"]', 'closes = ["covers"]\nasks = ["wire_size"]'
    )
    assert faults(text) == [
        'small.toml: line 57, step "plan", check "plan": uses wire_size before it is taken; take it '
        "in this step or an earlier one"
    ]


def test_a_fact_that_no_step_asks_is_a_fault() -> None:
    assert faults(changed(', "taps", ', ", ")) == [
        'small.toml: line 21, fact "taps": no step asks it; name it in the asks of a step, or take it out'
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
    assert faults(text) == [f'small.toml: line 85, step "strip", limit 1, is: {sentence}']


def test_a_limit_at_the_very_edge_of_the_range_is_none() -> None:
    assert faults(changed("strip_length >= barrel_depth - 1 mm", "strip_length < 60 mm")) == []


def test_an_over_range_reading_may_pass_every_limit() -> None:
    text = changed("strip_length >= barrel_depth - 1 mm", "strip_length > 60 mm").replace(
        'instrument = "cal"', "over_range = true"
    )
    assert faults(text) == []


def test_a_condition_that_always_holds_is_a_fault() -> None:
    assert faults(changed('lasts = "12 h"', 'when = "motor_current > 1 A"')) == [
        'small.toml: line 71, step "strip", when: this condition always holds in the hard ranges; '
        "mend it or take it out"
    ]


def test_a_condition_of_an_entry_that_never_holds_is_a_fault() -> None:
    text = changed('instrument = "cal"', 'when = "motor_current > 200 A"')
    assert faults(text) == [
        'small.toml: line 83, step "strip", reading "strip_length", when: this condition never holds '
        "in the hard ranges; "
        "mend it or take it out"
    ]


def test_a_hold_without_evidence_is_a_fault() -> None:
    text = changed('closes = ["covers"]', 'closes = ["covers"]\nhold = "hold"')
    assert faults(text) == [
        'small.toml: line 100, step "covers-on", hold: a hold ends on evidence; give it a reading, a '
        "check, a limit or parts"
    ]


def test_a_firm_hold_on_a_figure_from_memory_is_a_fault() -> None:
    text = changed('hold = "hold"\nlasts', 'hold = "firm"\nlasts')
    assert faults(text) == [
        'small.toml: line 88, step "strip", limit 1, source: a firm hold cannot rest on a figure from memory; '
        "look it up, or use hold"
    ]


@pytest.mark.parametrize(
    "way", ['irreversible = "cut"\naction = "Part the wire."', 'action = "Cut the wire."', 'action = "Drill the hole."']
)
def test_an_irreversible_step_without_a_gate_is_a_fault(way: str) -> None:
    text = changed('needs = ["prove-dead"]\n', "").replace('action = "Strip the end."', way)
    verb = "drill" if "Drill" in way else "cut"
    assert faults(text) == [
        f'{STRIP}: "{verb}" cannot be undone and nothing is checked before it; needs a step that measures'
    ]


def test_a_gate_that_measures_nothing_is_no_gate_for_a_cut() -> None:
    text = changed('needs = ["prove-dead"]\n', "").replace(
        'action = "Strip the end."', 'action = "Cut the wire."\nneeds = ["look"]'
    )
    look = '[[step]]\nid = "look"\nsection = "work"\ntitle = "Look"\naction = "Look."\nwhy = "So."\n\n'
    text = text.replace('[[step]]\nid = "strip"', f'{look}[[step]]\nid = "strip"')
    assert any("nothing is checked before it" in fault for fault in faults(text))


def test_a_gate_at_several_removes_is_a_gate() -> None:
    assert faults(changed('action = "Strip the end."', 'action = "Cut the end."')) == []


def test_a_warning_bound_after_its_step_is_a_fault() -> None:
    warning = '  [[step.warning]]\n  word = "CAUTION"\n  hazard = "Cut strands spring."\n  avoid = "Wear goggles."\n'
    text = changed(warning, "").replace('action = "Strip the end."', 'action = "Cut the end."')
    text = text.replace("  [[step.due]]", f"{warning}  [[step.due]]")
    assert faults(text) == [
        'small.toml: line 96, step "covers-on", warning 1: warns of "cut" after step "strip" has '
        "done it; bind it to that step"
    ]


def test_an_item_that_is_never_finished_is_a_fault() -> None:
    assert faults(changed('closes = ["covers"]\n', "")) == [
        'small.toml: line 89, step "strip", opens "covers": "covers" is never finished; a later step '
        "must have it in its closes"
    ]


def test_an_item_that_is_finished_before_it_is_opened_is_a_fault() -> None:
    text = changed('closes = ["covers"]\n', "").replace(
        'hold = "hold"\nasks', 'hold = "hold"\ncloses = ["covers"]\nasks'
    )
    assert (
        'small.toml: line 56, step "plan", closes: finishes "covers" before it is left to do; move the step down'
        in faults(text)
    )


def test_what_the_loader_finds_stands_in_the_report() -> None:
    assert faults(changed('revision = "1"', "revision = 1")) == [
        "small.toml: line 4, revision: is a whole number, should be a string"
    ]


def test_the_loaders_faults_and_the_linters_are_told_at_once() -> None:
    text = changed('revision = "1"', "revision = 1").replace('closes = ["covers"]\n', "")
    assert len(faults(text)) == 2


def test_a_step_that_could_not_be_read_is_not_judged_too() -> None:
    text = changed("strip_length >= barrel_depth - 1 mm", "strip_length >= barrel - 1 mm").replace(
        'hold = "hold"\nlasts', 'hold = "hold"\nlasts'
    )
    assert len(faults(text)) == 1


def test_a_fault_of_a_block_is_told_in_its_file() -> None:
    block = BLOCK[: BLOCK.index("  [[step.check]]")].replace("[[step.reading]]", "[[step.part]]", 0)
    block = block[: block.index("  [[step.reading]]")]
    assert faults(SMALL.replace("pair", "taps").replace('"hull"', '"taps"'), prove_dead=block) == [
        'blocks/prove-dead.toml: line 16, step "prove-dead", hold: a hold ends on evidence; give it '
        "a reading, a check, "
        "a limit or parts"
    ]
