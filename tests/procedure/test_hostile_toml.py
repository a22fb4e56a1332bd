"""Malformed and hostile files: one sentence with the line, whatever they hold, and quickly."""

import pytest

from engine.procedure.load import ProcedureFaults, load, load_text
from tests.procedure.small import SMALL, changed, faults_of

ONE_SENTENCE = [
    ("id = \n", "hostile.toml: line 1: this is not TOML: invalid value (column 6)"),
    ('id = "a"\nid = "b"\n', "hostile.toml: line 2: this is not TOML: cannot overwrite a value (column 9)"),
    ("[step\n", "hostile.toml: line 1: this is not TOML: expected ']' at the end of a table declaration (column 6)"),
    ('a = "\n', "hostile.toml: line 1: this is not TOML: illegal character '\\n' (column 6)"),
    ("a = [1", "hostile.toml: line 1: this is not TOML: unclosed array (at the end of the file)"),
    ("a = '''x\ny", "hostile.toml: line 2: this is not TOML: expected \"'''\" (at the end of the file)"),
    ('a = "\x00"\n', "hostile.toml: line 1: this is not TOML: illegal character '\\x00' (column 6)"),
    ("a = " + "[" * 1500 + "]" * 1500,
     "hostile.toml: lists or tables stand too deep inside one another; a procedure needs four levels"),
    ("\na = 1" + "0" * 4050, "hostile.toml: line 1: this is not TOML: cannot overwrite a value (column 9)"),
    ("x\n" + "a" * 4097, "hostile.toml: line 2: this line has more than 4096 characters; break it, with "
     '""" around the text'),
    (("# " + "x" * 4000 + "\n") * 140, "hostile.toml: is larger than 512 kB; a procedure is never so long"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sentence"), [case for case in ONE_SENTENCE if not case[0].startswith("\na = 1")])
def test_a_malformed_text_is_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(ProcedureFaults) as found:
        load_text(text, "hostile.toml")
    assert str(found.value) == sentence


def test_a_number_of_too_many_digits_is_one_sentence(tmp_path) -> None:
    """Python refuses to read more than 4300 digits; a line holds 4096, so the number is broken by underscores here."""
    path = tmp_path / "long.toml"
    path.write_text("\na = 1" + "0" * 5000 + "\n", encoding="utf-8")
    with pytest.raises(ProcedureFaults) as found:
        load(path)
    assert str(found.value) == (
        'long.toml: line 2: this line has more than 4096 characters; break it, with """ around the text'
    )


@pytest.mark.parametrize("value", ["inf", "nan", "1e400", "-inf", "9" * 400])
def test_an_odd_number_is_the_fault_of_its_key(value: str) -> None:
    kind = "a whole number" if value.isdigit() else "a number"
    assert faults_of(changed('revision = "1"', f"revision = {value}")) == [
        f"small.toml: line 4, revision: is {kind}, should be a string"
    ]


def test_a_huge_whole_number_is_the_fault_of_its_key() -> None:
    assert faults_of(changed("schema = 2\nid", f"schema = {'9' * 400}\nid")) == [
        f"small.toml: line 1, schema: is {'9' * 37}..., should be 2"
    ]


def test_control_signs_of_a_name_never_reach_the_terminal() -> None:
    text = changed('scope = "a test"', 'scope = "a test"\n"\\u001b[31mred" = 1')
    assert all(fault.isprintable() for fault in faults_of(text))


@pytest.mark.parametrize("old", ['[[section.step]]\nid = "plan"', "[circuit.run]", "[zone]", 'id = "strip"'])
def test_a_table_of_another_form_raises_nothing_but_faults(old: str) -> None:
    assert isinstance(faults_of(SMALL.replace(old, "")), list)


@pytest.mark.parametrize(
    "text",
    [
        "section = 1",
        "section = [1]",
        "section = [[]]",
        "section = [{}]",
        "section = [{ step = 1 }]",
        "section = [{ step = [1] }]",
        "section = [{ step = [{ borrow = 1 }] }]",
        "section = [{ step = [{ read = [1], limit = 1, check = [[]], fact = { a = 1 } }] }]",
        "circuit = 1",
        "circuit = { part = 1 }",
        "zone = []",
        "source = { a = 1 }",
        "piece = { a = { rests_on = 1 } }",
    ],
)
def test_values_in_the_place_of_tables_are_faults(text: str) -> None:
    with pytest.raises(ProcedureFaults) as found:
        load_text(text, "odd.toml")
    assert all(fault.file == "odd.toml" for fault in found.value.faults)


def test_an_empty_file_lacks_every_key_that_must_be_there() -> None:
    with pytest.raises(ProcedureFaults) as found:
        load_text("", "empty.toml")
    assert [fault.sentence.split('"')[1] for fault in found.value.faults] == [
        "id", "title", "revision", "summary", "scope", "schema", "section"
    ]  # fmt: skip


def test_text_that_is_not_utf8_is_named_with_its_line(tmp_path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes(b'id = "a"\ntitle = "\xe9"\n')
    with pytest.raises(ProcedureFaults) as found:
        load(path)
    assert str(found.value) == "latin.toml: line 2: this is not UTF-8 text; save the file as UTF-8"


def test_a_file_that_is_not_there_is_named(tmp_path) -> None:
    with pytest.raises(ProcedureFaults) as found:
        load(tmp_path / "gone.toml")
    assert str(found.value) == "gone.toml: cannot be read: No such file or directory"


def test_a_folder_in_the_place_of_a_file_is_named(tmp_path) -> None:
    with pytest.raises(ProcedureFaults) as found:
        load(tmp_path)
    assert str(found.value) == f"{tmp_path.name}: cannot be read: Is a directory"
