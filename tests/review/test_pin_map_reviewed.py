"""A pin map in the audit, the rows that are exported and the page: one reading, with what it was held against."""

from engine.review.audit import audit_file
from engine.review.columns import READING_COLUMNS
from engine.review.export import as_csv
from engine.review.page import page
from engine.review.readings import readings
from tests.samples.remake import Sample

FAULT = "kestrel-6-fault"
KEPT = "1-ground 2-brake 3-tail 4-charge 5-left 6-right 7-OL"


def test_the_audit_finds_the_same_verdict_from_the_raw_text(sample: Sample) -> None:
    found = audit_file(sample(FAULT))
    (row,) = [each for each in readings(found) if each.entry == "map"]
    assert (row.raw, row.shown) == ("1-g 2-b 3-tail 4-c 5-l 6-ri 7-ol", KEPT)
    assert (row.verdict, row.findings) == ("pass", ("map: pin-map",))
    assert row.limits == ("wanted pair at most 0.9 ohm", "all others at least 1e+06 ohm")


def test_it_is_one_row_of_the_export(sample: Sample) -> None:
    rows = [each for each in readings(audit_file(sample(FAULT))) if each.entry == "map"]
    lines = list(as_csv(READING_COLUMNS, rows))
    assert len(lines) == 2
    assert KEPT in lines[1]


def test_it_stands_on_the_page(sample: Sample) -> None:
    found = audit_file(sample(FAULT))
    assert KEPT in page(found)


def test_the_swap_that_was_found_first_stays_in_the_log(sample: Sample) -> None:
    text = sample(FAULT).read_text(encoding="utf-8")
    assert 'sentence = "contacts 5 and 6 swapped"' in text
