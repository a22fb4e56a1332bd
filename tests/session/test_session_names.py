"""Names of files: legal everywhere, never a path, still readable."""

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.session.names import MAX_STEM, legal_stem, stem

DAY = date(2025, 6, 1)
LEGAL = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


@given(st.text(), st.text())
def test_any_boat_and_procedure_give_a_legal_name(asset, procedure):
    name = stem(DAY, asset, procedure)
    assert LEGAL.fullmatch(name)
    assert name.startswith("2025-06-01")
    assert len(name) <= MAX_STEM


@given(st.text())
def test_any_text_gives_a_legal_name(text):
    assert LEGAL.fullmatch(legal_stem(text))


@pytest.mark.parametrize("name", ["con", "PRN", "Aux", "nul", "COM1", "lpt9", "com¹", "CONIN$"])
def test_names_that_windows_keeps_for_itself_are_avoided(name):
    assert legal_stem(name).endswith("-file")


@pytest.mark.parametrize(
    ("asset", "folded"),
    [
        ("Sea Otter II", "sea-otter-ii"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\boats\\a.", "c-boats-a"),
        ("Bøtchen Æ", "botchen-ae"),
        ("Café Größe", "cafe-grosse"),
        ("trailing. ", "trailing"),
        ("a\nb\x1b[31m\u202ec", "a-b-31mc"),
        ("x" * 200, "x" * 32),
    ],
)
def test_a_name_stays_readable(asset, folded):
    assert stem(DAY, asset, "inlet") == f"2025-06-01-{folded}-inlet"


def test_a_name_without_a_letter_that_all_systems_know_leaves_day_and_procedure():
    assert stem(DAY, "船", "inlet") == "2025-06-01-inlet"
