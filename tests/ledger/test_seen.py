"""Sequences that were tried since one like it was dishonest in some procedure: none is, in any."""

from pathlib import Path

import pytest

from engine.shipped import shipped
from tests.ledger.sequence import Sequence, clean_offences, files, in_words, load_sequence, play, written


@pytest.mark.parametrize("name", [path.stem for path in shipped()])
def test_the_clean_job_is_clean(name: str) -> None:
    assert not clean_offences(name)


@pytest.mark.parametrize("path", list(files()), ids=lambda path: path.stem)
def test_it_does_not_come_back(path: Path) -> None:
    sequence = load_sequence(path)
    desk, _ = play(sequence)
    assert not desk.ledger.offences.keys() - clean_offences(sequence.procedure).keys()


@pytest.mark.parametrize("path", list(files())[::10], ids=lambda path: path.stem)
def test_a_sequence_is_written_as_it_is_read(path: Path, tmp_path: Path) -> None:
    sequence = load_sequence(path)
    (tmp_path / "again.toml").write_text(written(sequence), "utf-8")
    again: Sequence = load_sequence(tmp_path / "again.toml")
    assert [in_words(a) for a in again.do] == [in_words(a) for a in sequence.do]
    assert again == sequence
