"""Blocks: one wording for many procedures, with parameters; faults are told at the use or in the block."""

import pytest

from tests.procedure.small import BLOCK, SMALL, changed, faults_of, loaded

USE = """\
use = "prove-dead"
with = { section = "make-safe", nominal = "12 V", points = ["pair", "hull"] }
"""


def test_the_steps_of_a_block_stand_where_it_is_used() -> None:
    assert [step.id for step in loaded().steps] == ["plan", "prove-dead", "strip", "covers-on"]


def test_a_parameter_fills_its_gap_in_a_text() -> None:
    block = BLOCK.replace('title = "Prove it dead"\naction', 'title = "Dead at {nominal}"\naction')
    assert loaded(prove_dead=block).step_by_id["prove-dead"].title == "Dead at 12 V"


def test_a_list_fills_the_list_that_it_stands_in() -> None:
    inputs = loaded().step_by_id["prove-dead"].checks[0].inputs
    assert inputs["points"].ids == ("pair", "hull")


def test_a_list_in_a_longer_text_is_said_with_commas() -> None:
    block = BLOCK.replace('why = "Off is not dead."', 'why = "Off is not dead: {points}."')
    assert loaded(prove_dead=block).step_by_id["prove-dead"].why == "Off is not dead: pair, hull."


def test_a_block_that_is_used_twice_brings_its_facts_once() -> None:
    block = MOVE.replace(
        "[[step]]", '[[fact]]\nid = "spare"\nask = "Spare ways"\nunit = ""\nhard = ["0", "9"]\n\n[[step]]'
    )
    use = '[[step]]\nuse = "move"\nwith = { section = "work", wire = "WIRE" }\n\n'
    twice = use.replace("WIRE", "horn") + use.replace("WIRE", "pump")
    text = changed('[[step]]\nid = "covers-on"', twice + '[[step]]\nid = "covers-on"')
    assert [fact.id for fact in loaded(text, move=block).facts].count("spare") == 1


MOVE = """\
schema = 1
id = "move"
title = "Move one wire"

[parameters]
section = "where"
wire = "which"

[[step]]
id = "move-{wire}"
section = "{section}"
title = "Move {wire}"
action = "Move it."
why = "One at a time is no puzzle."
"""


def test_a_block_stands_once_for_each_set_of_parameters() -> None:
    use = '[[step]]\nuse = "move"\nwith = { section = "work" }\neach = [{ wire = "horn" }, { wire = "pump" }]\n\n'
    text = changed('[[step]]\nid = "covers-on"', use + '[[step]]\nid = "covers-on"')
    assert [step.title for step in loaded(text, move=MOVE).steps[3:5]] == ["Move horn", "Move pump"]


def test_a_block_may_use_a_block() -> None:
    outer = 'schema = 1\nid = "outer"\ntitle = "x"\n[[step]]\n' + USE
    text = changed(USE, 'use = "outer"\n')
    assert loaded(text, outer=outer) == loaded()


FAULTS = [
    (USE, 'use = "prove-deaf"\n', [
        'small.toml: line 61, step 2, use: there is no block "prove-deaf"; '
        "it would be the file blocks/prove-deaf.toml"]),
    (USE, "use = 5\n", [
        "small.toml: line 61, step 2, use: is a whole number, should be a string"]),
    (', nominal = "12 V"', "", [
        'small.toml: line 62, step 2, with: block "prove-dead" needs "nominal": volts of the known source']),
    ('nominal = "12 V"', 'nominal = "12 V", point = "x"', [
        'small.toml: line 62, step 2, with: block "prove-dead" has no parameter "point"; did you mean "points"?']),
    ('nominal = "12 V"', "nominal = 12", [
        'small.toml: line 62, step 2, with: "nominal" is a whole number, should be a string or a list of strings']),
    (USE, USE + 'id = "x"\n', [
        "small.toml: line 63, step 2, id: is not a key here; a use has use, with, each"]),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "faults"), FAULTS)
def test_a_fault_of_a_use_is_told_with_its_place(old: str, new: str, faults: list[str]) -> None:
    assert faults_of(changed(old, new)) == faults


def test_a_fault_in_a_block_is_told_in_its_file() -> None:
    block = BLOCK.replace('title = "Prove it dead"\naction', 'titel = "Prove it dead"\naction')
    assert faults_of(SMALL, prove_dead=block) == [
        'blocks/prove-dead.toml: line 10, step "prove-dead": "title" is missing: two to five words',
        'blocks/prove-dead.toml: line 13, step "prove-dead", titel: is not a key here; did you mean "title"?',
    ]


def test_a_malformed_block_is_told_in_its_file() -> None:
    assert faults_of(SMALL, prove_dead=BLOCK.replace('unit = "V"', 'unit = "V', 1)) == [
        "blocks/prove-dead.toml: line 20: this is not TOML: illegal character '\\n' (column 12)"
    ]


def test_a_gap_that_is_no_parameter_is_told_in_the_block() -> None:
    assert faults_of(SMALL, prove_dead=BLOCK.replace("{nominal}", "{nominals}")) == [
        'blocks/prove-dead.toml: line 43, step "prove-dead", check "dead", with, nominal: "{nominals}" is no parameter '
        "of this block; it has section, nominal, points"
    ]


def test_a_block_that_uses_itself_is_told_with_its_way() -> None:
    circle = 'schema = 1\nid = "a"\ntitle = "x"\n[[step]]\nuse = "b"\n'
    faults = faults_of(
        changed(USE, 'use = "a"\n'), a=circle, b=circle.replace('"b"', '"a"').replace('id = "a"', 'id = "b"')
    )
    assert 'blocks/b.toml: line 5, step 1, use: block "a" uses itself: a -> b -> a; take one use out' in faults


def test_blocks_that_multiply_are_stopped() -> None:
    """Four blocks that each use the next a hundred times would be a hundred million steps."""
    names = "abcd"
    many = {
        name: f'schema = 1\nid = "{name}"\ntitle = "x"\n' + f'[[step]]\nuse = "{after}"\n' * 100
        for name, after in zip(names, "bcde", strict=True)
    }
    faults = faults_of(changed(USE, 'use = "a"\n'), e='schema = 1\nid = "e"\ntitle = "x"\nstep = []\n', **many)
    assert any("more than 500 blocks or steps; a procedure is never so long" in fault for fault in faults)


def test_blocks_may_stand_four_deep_and_no_deeper() -> None:
    names = "abcd"
    deep = {
        name: f'schema = 1\nid = "{name}"\ntitle = "x"\n[[step]]\nuse = "{after}"\n'
        for name, after in zip(names, "bcde", strict=True)
    }
    assert faults_of(changed(USE, 'use = "a"\n'), **deep) == [
        "blocks/d.toml: line 5, step 1, use: more than 4 blocks inside one another; use fewer"
    ]


def test_the_fault_of_a_block_that_is_used_twice_is_told_once() -> None:
    block = BLOCK.replace('why = "Off is not dead."', "why = 1")
    twice = changed('[[step]]\nid = "covers-on"', f'[[step]]\n{USE}\n[[step]]\nid = "covers-on"')
    assert sum("why" in fault for fault in faults_of(twice, prove_dead=block)) == 1
