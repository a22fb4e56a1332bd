"""A log under a procedure with other limits than its name stands for is told, and never counts as clean."""

from dataclasses import replace

import pytest

from engine.procedure.load import read_logged
from engine.review import texts
from engine.review.audit import audit, audit_file
from engine.review.index import Index
from engine.review.page import page
from engine.review.report import report_lines
from engine.review.row import LogRow, row_of
from engine.review.texts import other_text, with_texts
from tests.review.forging import CLEAN, REVISION, rebuilt, unchanged


def weakened() -> bytes:
    """Return a log under a copy of the shipped procedure that allows ten times the cap, its digest made to fit."""
    procedure = audit_file(CLEAN).procedure
    assert procedure is not None
    text = procedure.text.replace('title = "Bow-motor receptacle swap"', 'title = "Bow-motor receptacle  swap"')
    assert text != procedure.text
    header = {"procedure_text": text, "procedure_sha256": read_logged(text).sha256}
    return rebuilt(unchanged, header=header)


def test_the_shipped_text_is_no_news() -> None:
    (row,) = with_texts([row_of(audit_file(CLEAN))])
    assert (row.other_text, row.looks_clean) == ("", True)


def test_another_text_under_a_shipped_name_is_told_in_line_and_report() -> None:
    found = audit(weakened(), "mine.toml")
    assert found.replay is not None
    assert found.replay.problems == []
    (row,) = with_texts([row_of(found)])
    sentence = f"its procedure is not the text that is shipped as bow-receptacle, revision {REVISION}"
    assert (row.other_text, row.looks_clean) == (sentence, False)
    assert f"    {sentence}" in report_lines(found)


def own(name: str, text: str) -> LogRow:
    return replace(row_of(audit_file(CLEAN)), name=name, procedure="own-work", procedure_sha256=text)


def test_of_a_procedure_that_is_not_shipped_the_text_of_most_is_the_usual_one() -> None:
    rows = with_texts([own("a", "1"), own("b", "1"), own("c", "2")])
    assert [bool(row.other_text) for row in rows] == [False, False, True]


def test_where_no_text_has_most_logs_nothing_is_said() -> None:
    assert not any(row.other_text for row in with_texts([own("a", "1"), own("b", "2")]))


@pytest.mark.parametrize("name", ["../bow-receptacle", "/etc/passwd", "bow-receptacle.toml", "", "\x00"])
def test_a_name_in_a_log_is_never_taken_for_a_path(name: str) -> None:
    assert other_text(name, "1", "0") == ""


def test_another_revision_is_another_procedure() -> None:
    assert other_text("bow-receptacle", "0", "0") == ""


def test_the_page_says_it_among_what_does_not_agree() -> None:
    told = page(audit(weakened(), "mine.toml"))
    assert (
        told.index("Does not agree")
        < told.index("its procedure is not the text that is shipped as")
        < told.index("The job")
    )


def test_what_is_shipped_is_remembered_by_the_bytes_that_it_is_made_of(monkeypatch: pytest.MonkeyPatch) -> None:
    row = row_of(audit(weakened(), "mine.toml"))
    index = Index()
    monkeypatch.setattr(texts, "_KNOWN", {})
    (first,) = with_texts([row], index)
    monkeypatch.setattr(texts, "_KNOWN", {})
    monkeypatch.setattr(texts, "fingerprint", None)  # it can only be remembered now
    (second,) = with_texts([row], index)
    assert first.other_text == second.other_text != ""
