"""Every shipped procedure is free of faults, has the name of its file, and is found in a checkout and by its path."""

from pathlib import Path

import pytest

from engine.procedure.lint import lint
from engine.procedure.load import blocks_of, fingerprint, load, read_all, read_logged
from engine.procedure.toml import text_of
from engine.shipped import NotShipped, find, folder, shipped

BLOCKS = sorted((folder("procedures") / "blocks").glob("*.toml"))
SHIPPED = pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)


@SHIPPED
def test_the_linter_finds_no_fault_and_has_no_doubt(path: Path) -> None:
    found = lint(path)
    assert [str(line) for line in (*found.faults, *found.doubts)] == []


@SHIPPED
def test_its_id_is_the_name_of_its_file(path: Path) -> None:
    assert load(path).id == path.stem


@SHIPPED
def test_its_text_in_a_log_gives_the_same_procedure(path: Path) -> None:
    procedure = load(path)
    assert read_logged(procedure.text) == procedure


@SHIPPED
def test_its_first_line_names_the_schema(path: Path) -> None:
    assert path.read_text(encoding="utf-8").split("\n")[0] == "#:schema procedure.schema.json"


@pytest.mark.parametrize("path", BLOCKS, ids=lambda path: path.stem)
def test_the_first_line_of_a_block_names_the_schema(path: Path) -> None:
    assert path.read_text(encoding="utf-8").split("\n")[0] == "#:schema ../block.schema.json"


@pytest.mark.parametrize("path", [*shipped(), *BLOCKS], ids=lambda path: path.stem)
def test_no_line_is_longer_than_250_signs(path: Path) -> None:
    assert [line for line in path.read_text(encoding="utf-8").split("\n") if len(line) > 250] == []


def test_every_block_is_borrowed_by_a_shipped_procedure() -> None:
    borrowed = {name for path in shipped() for name in read_all(text_of(path), path.name, blocks_of(path)).blocks}
    assert {path.stem for path in BLOCKS} == borrowed


def test_the_main_job_is_shipped() -> None:
    assert "bow-receptacle" in [path.stem for path in shipped()]


def test_a_shipped_procedure_is_found_by_its_name() -> None:
    assert find("bow-receptacle") == folder("procedures") / "bow-receptacle.toml"


def test_a_procedure_of_ones_own_is_found_by_its_path(tmp_path) -> None:
    own = tmp_path / "own.toml"
    own.touch()
    assert find(str(own)) == own


def test_an_unknown_name_is_told_with_the_nearest() -> None:
    with pytest.raises(NotShipped) as told:
        find("bow-receptacel")
    assert str(told.value) == 'no procedure is called "bow-receptacel"; did you mean "bow-receptacle"?'


def test_a_path_that_is_not_there_is_told() -> None:
    with pytest.raises(NotShipped) as told:
        find("nowhere/own.toml")
    assert (
        str(told.value)
        == "nowhere/own.toml: there is no such file; give the path of a procedure, or the name of a shipped one"
    )


@SHIPPED
def test_the_fingerprint_is_that_of_the_procedure_as_loaded(path: Path) -> None:
    known = load(path)
    assert fingerprint(path) == (known.revision, known.sha256)
