"""Export: CSV that a reader gives back and no spreadsheet runs, JSON lines that are exact, columns that are told."""

import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.review.audit import audit_file
from engine.review.columns import LOG_COLUMNS, READING_COLUMNS, Column
from engine.review.export import as_csv, as_jsonl, columns_text, harmless
from engine.review.readings import readings
from engine.review.row import row_of
from tests.review.forging import CLEAN, GIVEN, MENDED, ON_TASK_S
from tests.samples.remake import Sample

ONE = (Column("text", "", "a text", lambda text: text),)


def back(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ('=HYPERLINK("x")', '\'=HYPERLINK("x")'),
        ("@SUM(1)", "'@SUM(1)"),
        ("  =1+1", "  '=1+1"),
        ("\t=1+1", "\t'=1+1"),
        ("\ufeff=1", "\ufeff'=1"),
        ("\uff1d1+1", "'\uff1d1+1"),
        ("sound;=1+1", "sound;'=1+1"),
        ("one\n-2+3", "one\n'-2+3"),
        ('"=1+1', "\"'=1+1"),
        ("-12.6", "-12.6"),
        ("+0,5", "+0,5"),
        ("tight - and dry", "tight - and dry"),
        ("a=b", "a=b"),
        ("x\x1b[2J\x00", "x\\x1b[2J\\x00"),
    ],
)
def test_a_text_that_could_start_a_formula_is_made_harmless_and_others_stay(typed: str, written: str) -> None:
    assert harmless(typed) == written


@given(st.text(max_size=40))
def test_any_text_comes_back_as_one_cell_that_starts_no_formula(text: str) -> None:
    lines = "".join(as_csv(ONE, [text]))
    rows = back(lines)
    assert rows[1:] == [[harmless(text)]]
    start = harmless(text).lstrip()[:1]
    assert start not in set("=@\uff1d\uff0b\uff0d\uff20+-") or harmless(text) == text


@given(st.text(max_size=40))
def test_json_lines_have_the_exact_text_on_one_line_of_ascii(text: str) -> None:
    (line,) = as_jsonl(ONE, [text])
    assert line.isascii()
    assert line.count("\n") == 1
    assert json.loads(line) == {"text": text}


def test_lines_end_as_the_form_of_csv_wants_it() -> None:
    """RFC 4180, section 2: lines end in CR LF; a cell with a comma, quote or line end stands in quotes."""
    assert list(as_csv(ONE, ['a,"b"\nc'])) == ["text\r\n", '"a,""b""\nc"\r\n']


@pytest.mark.parametrize("columns", [LOG_COLUMNS, READING_COLUMNS])
def test_every_column_has_its_own_name_and_says_what_it_is(columns: tuple[Column, ...]) -> None:
    names = [column.name for column in columns]
    assert len(set(names)) == len(names)
    assert all(
        column.says and name in line for column, name, line in zip(columns, names, columns_text(columns), strict=True)
    )


def test_one_row_a_log_has_the_facts_of_its_line() -> None:
    header, row = back("".join(as_csv(LOG_COLUMNS, [row_of(audit_file(CLEAN))])))
    told = dict(zip(header, row, strict=True))
    assert (told["chain"], told["clean"], told["given"], told["on_task"], told["mark"]) == (
        "whole", "yes", str(GIVEN), f"{ON_TASK_S}", "",
    )  # fmt: skip


def test_one_row_a_reading_has_raw_text_value_unit_limit_and_source() -> None:
    rows = {r["entry"]: r for r in map(json.loads, as_jsonl(READING_COLUMNS, readings(audit_file(CLEAN))))}
    bank = rows["v_bank"]
    assert len(rows) == GIVEN
    assert (bank["raw"], bank["value"], bank["unit"], bank["verdict"], bank["instrument"]) == (
        "25.38", 25.38, "V", "pass", "dmm_v",
    )  # fmt: skip
    assert "project rule" in bank["sources"]


def test_a_corrected_reading_shows_what_it_replaced(sample: Sample) -> None:
    rows = [r for r in readings(audit_file(sample(MENDED))) if r.replaced]
    assert rows
    assert all(r.raw not in r.replaced for r in rows)


def test_a_log_that_cannot_be_walked_has_no_readings(tmp_path: Path) -> None:
    (tmp_path / "x.toml").write_bytes(b"hello")
    assert readings(audit_file(tmp_path / "x.toml")) == ()


def test_a_reading_has_the_findings_that_rest_on_it_and_not_those_of_the_next_one() -> None:
    """Two joints of one step are judged by the same check, each on its own drop."""
    rows = {row.entry: row for row in readings(audit_file(CLEAN))}
    own = {entry: rows[entry].findings for entry in ("mv_1", "mv_2")}
    assert own == {"mv_1": ("load-test: joint",), "mv_2": ("load-test: joint 2",)}


def test_a_value_is_said_with_its_sign_as_the_screens_say_it() -> None:
    rows = {row.entry: row for row in readings(audit_file(CLEAN))}
    assert rows["v_polarity"].shown.startswith("+")
