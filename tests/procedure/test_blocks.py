"""Blocks: one wording for many procedures, with parameters; a fault is told on the line of the author's own file."""

from pathlib import Path

import pytest

from engine.procedure.lint import lint
from engine.procedure.load import load
from engine.shipped import folder
from tests.procedure.small import BLOCK, SMALL, changed, faults_of, loaded

BORROW = """\
borrow = "prove-dead"
fill = { nominal = "12 V", points = ["pair", "hull"] }
"""
MOVE = """\
schema = 2
id = "move"
title = "Move one wire"

[parameters]
wire = "which"
when = { says = "only if", default = "" }
needs = { says = "what comes before", default = "" }

[source]
own = { authority = "standard", document = "a standard", seen = "read" }

[piece]
"joint-{wire}" = { name = "the joint of {wire}" }

[[step]]
id = "move-{wire}"
title = "Move {wire}"
do = "Move it."
why = "One at a time is no puzzle."
needs = ["{needs}"]
when = "{when}"
works = ["joint-{wire}"]
fact.spare = { ask = "Spare ways", count = [0, 9] }
read."turns_{wire}" = { ask = "Turns of {wire}", count = [0, 9], least = 1, says = "it turns", from = "own" }
"""
LAST = '[[section.step]]\nid = "covers-on"'


def moved(fill: str, block: str = MOVE) -> tuple[str, dict[str, str]]:
    """Return the small procedure with the block ``move`` borrowed before its last step, and its blocks."""
    return changed(LAST, f'[[section.step]]\nborrow = "move"\n{fill}\n\n{LAST}'), {"move": block}


def steps_moved(fill: str, block: str = MOVE) -> dict[str, object]:
    text, blocks = moved(fill, block)
    return dict(loaded(text, **blocks).step_by_id)


def test_the_steps_of_a_block_stand_where_it_is_borrowed() -> None:
    assert [(step.id, step.section) for step in loaded().steps][:3] == [
        ("plan", "make-safe"), ("prove-dead", "make-safe"), ("strip", "work")
    ]  # fmt: skip


def test_a_parameter_fills_its_gap_in_a_text() -> None:
    block = changed('title = "Prove it dead"\ndo', 'title = "Dead at {nominal}"\ndo', BLOCK)
    assert loaded(prove_dead=block).step_by_id["prove-dead"].title == "Dead at 12 V"


def test_a_list_fills_the_list_that_it_stands_in() -> None:
    assert loaded().step_by_id["prove-dead"].checks[0].inputs["points"].ids == ("pair", "hull")


def test_a_list_in_a_longer_text_is_said_with_commas() -> None:
    block = changed('why = "Off is not dead."', 'why = "Off is not dead: {points}."', BLOCK)
    assert loaded(prove_dead=block).step_by_id["prove-dead"].why == "Off is not dead: pair, hull."


def test_a_block_stands_once_for_each_set_of_parameters() -> None:
    steps = steps_moved('fill_each = [{ wire = "horn" }, { wire = "pump" }]')
    assert (steps["move-horn"].title, steps["move-pump"].readings[0].id) == ("Move horn", "turns_pump")


def test_each_set_adds_to_what_is_given_to_all() -> None:
    steps = steps_moved('fill = { when = \'taps == "yes"\' }\nfill_each = [{ wire = "horn" }, { wire = "pump" }]')
    assert [steps[name].when.text for name in ("move-horn", "move-pump")] == ['taps == "yes"'] * 2


@pytest.mark.parametrize(("given", "needs"), [("", None), (', needs = "plan"', ("plan",)), (", needs = []", None)])
def test_a_key_that_is_filled_with_nothing_is_as_if_not_written(given: str, needs: tuple[str, ...] | None) -> None:
    step = steps_moved(f'fill = {{ wire = "horn"{given} }}')["move-horn"]
    assert (step.needs, step.when) == (needs, None)


def test_a_list_that_the_block_leaves_empty_itself_is_written() -> None:
    block = changed('needs = ["{needs}"]', "needs = []", MOVE)
    assert steps_moved('fill = { wire = "horn" }', block)["move-horn"].needs == ()


def test_a_block_brings_its_pieces_and_its_sources() -> None:
    text, blocks = moved('fill_each = [{ wire = "horn" }, { wire = "pump" }]')
    procedure = loaded(text, **blocks)
    assert [piece.name for piece in procedure.pieces][2:] == ["the joint of horn", "the joint of pump"]
    assert procedure.step_by_id["move-pump"].limits[0].source.document == "a standard"


def test_a_source_of_a_block_that_says_something_else_than_the_procedures_is_a_fault() -> None:
    text, blocks = moved('fill = { wire = "horn" }', MOVE.replace("own =", "barrel =").replace('"own"', '"barrel"'))
    assert faults_of(text, **blocks) == [
        'small.toml: line 70, source.barrel, in block "move" line 11: "barrel" says something else on line 10; '
        "call one otherwise"
    ]


def test_a_fact_of_a_block_that_is_borrowed_twice_is_asked_once() -> None:
    text, blocks = moved('fill_each = [{ wire = "horn" }, { wire = "pump" }]')
    procedure = loaded(text, **blocks)
    assert procedure.step_of_entry["spare"] == "move-horn"
    assert procedure.step_by_id["move-pump"].asks == ()


def test_a_fact_that_a_block_asks_twice_in_other_words_is_a_fault() -> None:
    text, blocks = moved('fill_each = [{ wire = "horn" }, { wire = "pump" }]', MOVE.replace("Spare ways", "Of {wire}"))
    assert faults_of(text, **blocks) == [
        'small.toml: line 70, step "move-pump", fact.spare, in block "move" line 24: "spare" is taken by the entry on '
        "line 70; ids never repeat"
    ]


def test_a_block_may_borrow_a_block() -> None:
    outer = f'schema = 2\nid = "outer"\ntitle = "x"\n[[step]]\n{BORROW}'
    assert loaded(changed(BORROW, 'borrow = "outer"\n'), outer=outer) == loaded()


FAULTS = [
    (BORROW, 'borrow = "prove-deaf"\n', [
        'small.toml: line 43, step 2, borrow: there is no block "prove-deaf"; '
        "it would be the file blocks/prove-deaf.toml"]),
    (BORROW, "borrow = 5\n", [
        "small.toml: line 43, step 2, borrow: is a whole number, should be a string"]),
    ('nominal = "12 V", ', "", [
        'small.toml: line 44, step 2, fill: block "prove-dead" needs "nominal": volts of the known source']),
    ('nominal = "12 V"', 'nominal = "12 V", point = "x"', [
        'small.toml: line 44, step 2, fill.point: block "prove-dead" has no parameter "point"; '
        'did you mean "points"?']),
    ('nominal = "12 V"', "nominal = 12", [
        "small.toml: line 44, step 2, fill.nominal: is a whole number, should be a string or a list of strings"]),
    (BORROW, BORROW + 'id = "x"\n', [
        "small.toml: line 45, step \"x\", id: is not a key here; step \"x\" has borrow, fill, fill_each"]),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "faults"), FAULTS)
def test_a_fault_of_a_borrow_is_told_with_its_place(old: str, new: str, faults: list[str]) -> None:
    assert faults_of(changed(old, new)) == faults


def test_a_fault_in_the_text_of_a_block_points_to_the_borrow_and_names_the_block_with_its_line() -> None:
    block = changed('title = "Prove it dead"\ndo', 'title = "Prove it dead"\ndoo', BLOCK)
    assert faults_of(SMALL, prove_dead=block) == [
        'small.toml: line 43, step "prove-dead", doo, in block "prove-dead" line 13: is not a key here; did you mean '
        '"do"?',
        'small.toml: line 43, step "prove-dead", in block "prove-dead" line 10: "do" is missing: one action, one verb',
    ]


def test_a_fault_in_the_head_of_a_block_points_to_the_borrow() -> None:
    assert faults_of(SMALL, prove_dead=changed("schema = 2", "schema = 1", BLOCK)) == [
        'small.toml: line 43, schema, in block "prove-dead" line 1: is 1, should be 2'
    ]


@pytest.mark.parametrize(
    ("fill", "line", "place"),
    [
        ('fill = { nominal = "12 A", points = ["pair", "hull"] }', 44, "check.dead, nominal"),
        ('fill = { points = ["pair", "hull"] }\nfill_each = [\n  { nominal = "12 A" },\n]', 46, "check.dead, nominal"),
        ('fill.points = ["pair", "hull"]\nfill.nominal = "12 A"', 45, "check.dead, nominal"),
    ],
)
def test_a_fault_in_a_value_that_is_filled_in_points_to_the_fill(fill: str, line: int, place: str) -> None:
    text = changed('fill = { nominal = "12 V", points = ["pair", "hull"] }', fill)
    assert faults_of(text) == [
        f'small.toml: line {line}, step "prove-dead", {place}, in block "prove-dead" line 25: "12 A" is a current; a '
        "voltage is asked here (in V)"
    ]


def test_a_fault_in_what_a_block_gives_on_to_a_block_points_to_the_authors_fill() -> None:
    outer = 'schema = 2\nid = "outer"\ntitle = "x"\n[parameters]\nvolts = "x"\n[[step]]\n' + BORROW.replace(
        "12 V", "{volts}"
    )
    assert faults_of(changed(BORROW, 'borrow = "outer"\nfill = { volts = "5 A" }\n'), outer=outer) == [
        'small.toml: line 44, step "prove-dead", check.dead, nominal, in block "prove-dead" line 25, in block "outer" '
        'line 7: "5 A" is a current; a voltage is asked here (in V)'
    ]


def test_an_id_that_a_fill_repeats_points_to_that_fill() -> None:
    text, blocks = moved('fill_each = [\n  { wire = "horn" },\n  { wire = "horn" },\n]')
    assert [fault.split(":")[1] for fault in faults_of(text, **blocks)] == [
        ' line 73, step "move-horn", id, in block "move" line 17',
        ' line 73, step "move-horn", read.turns_horn, in block "move" line 25',
    ]


def test_a_malformed_block_is_told_at_the_borrow_with_its_own_line() -> None:
    assert faults_of(SMALL, prove_dead=changed('why = "Off is not dead."', 'why = "Off', BLOCK)) == [
        "small.toml: line 43, step 2, borrow: block \"prove-dead\" line 14: this is not TOML: illegal character '\\n' "
        "(column 11)"
    ]


def test_a_gap_that_is_no_parameter_is_told_in_the_block() -> None:
    assert faults_of(SMALL, prove_dead=BLOCK.replace("{nominal}", "{nominals}")) == [
        'small.toml: line 43, {nominals}, in block "prove-dead" line 25: "{nominals}" is no parameter of this block; '
        "it has needs, nominal, points"
    ]


def test_a_block_that_borrows_itself_is_told_with_its_way() -> None:
    circle = 'schema = 2\nid = "a"\ntitle = "x"\n[[step]]\nborrow = "b"\n'
    faults = faults_of(
        changed(BORROW, 'borrow = "a"\n'), a=circle, b=circle.replace('"b"', '"a"').replace('id = "a"', 'id = "b"')
    )
    assert faults == [
        'small.toml: line 43, step 1, borrow, in block "b" line 5, in block "a" line 5: block "a" borrows itself: '
        "a -> b -> a; take one out"
    ]


def test_blocks_that_multiply_are_stopped() -> None:
    """Four blocks that each borrow the next a hundred times would be a hundred million steps."""
    many = {
        name: f'schema = 2\nid = "{name}"\ntitle = "x"\n' + f'[[step]]\nborrow = "{after}"\n' * 100
        for name, after in zip("abcd", "bcde", strict=True)
    }
    faults = faults_of(changed(BORROW, 'borrow = "a"\n'), e='schema = 2\nid = "e"\ntitle = "x"\nstep = []\n', **many)
    assert any("more than 500 blocks or steps; a procedure is never so long" in fault for fault in faults)


def test_blocks_may_stand_four_deep_and_no_deeper() -> None:
    deep = {
        name: f'schema = 2\nid = "{name}"\ntitle = "x"\n[[step]]\nborrow = "{after}"\n'
        for name, after in zip("abcd", "bcde", strict=True)
    }
    (fault,) = faults_of(changed(BORROW, 'borrow = "a"\n'), **deep)
    assert fault.startswith('small.toml: line 43, step 1, borrow, in block "d" line 5, in block "c" line 5')
    assert fault.endswith("more than 4 blocks inside one another; use fewer")


def own_folder(tmp_path: Path, **blocks: str) -> Path:
    """Write an author's own file that borrows the shipped ``sniff-and-air``, with blocks of the author's beside it."""
    (tmp_path / "blocks").mkdir()
    for name, text in blocks.items():
        (tmp_path / "blocks" / f"{name.replace('_', '-')}.toml").write_text(text, encoding="utf-8")
    file = tmp_path / "own.toml"
    text = changed(LAST, f'[[section.step]]\nborrow = "sniff-and-air"\n\n{LAST}')
    file.write_text(text, encoding="utf-8")
    return file


def test_a_shipped_block_is_found_from_any_folder(tmp_path: Path) -> None:
    procedure = load(own_folder(tmp_path, prove_dead=BLOCK))
    assert "vapour" in procedure.step_by_id


def test_an_own_block_is_used_instead_of_the_shipped_one_and_lint_says_so(tmp_path: Path) -> None:
    own = BLOCK.replace('id = "prove-dead"', 'id = "sniff-and-air"', 1).replace('id = "prove-dead"', 'id = "own-sniff"')
    own = own[: own.index("[parameters]")] + '[[step]]\nid = "own-sniff"\ndo = "Sniff."\nwhy = "So."\n'
    file = own_folder(tmp_path, prove_dead=BLOCK, sniff_and_air=own)
    assert "own-sniff" in load(file).step_by_id
    assert [str(note) for note in lint(file).notes] == [
        "own.toml: line 43, step 2, borrow: blocks/prove-dead.toml here is used instead of the shipped one",
        "own.toml: line 70, step 2, borrow: blocks/sniff-and-air.toml here is used instead of the shipped one",
    ]


def test_a_shipped_procedure_uses_the_shipped_blocks_without_a_note() -> None:
    assert lint(folder("procedures") / "outlet-12v.toml").notes == ()
