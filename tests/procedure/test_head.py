"""The head of a procedure file is what the whole procedure says of itself."""

from pathlib import Path

import pytest

from engine.procedure.faults import ProcedureFaults
from engine.procedure.head import head
from engine.procedure.load import load
from engine.shipped import shipped


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_it_is_what_the_loaded_procedure_says(path: Path) -> None:
    found, whole = head(path), load(path)
    assert (found.id, found.title, found.summary) == (whole.id, whole.title, whole.summary)


def test_a_file_without_a_title_is_refused_in_a_sentence(tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    file.write_text('id = "x"\nsummary = "y"\n[[step]]\ntitle = "z"\n', encoding="utf-8")
    with pytest.raises(ProcedureFaults, match=r'"title" is missing'):
        head(file)


def test_a_head_that_is_no_toml_is_refused_with_its_line(tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    file.write_text('id = "x"\ntitle = \n', encoding="utf-8")
    with pytest.raises(ProcedureFaults, match="line 2"):
        head(file)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ProcedureFaults, match="cannot be read"):
        head(tmp_path / "none.toml")
