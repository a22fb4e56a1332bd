"""Every cell of every table whose source was read itself, by value, against cells typed out for the tests."""

from pathlib import Path

import pytest

from engine.published.tables import Cell, table, tables, topics
from engine.source import Authority, Seen

OWN = Authority.PROJECT
"""Tables of this project's own rules have no printed page to be held against."""


def blocks() -> dict[tuple[str, str], list[dict[str, str]]]:
    found: dict[tuple[str, str], list[dict[str, str]]] = {}
    columns: list[str] = []
    rows: list[dict[str, str]] = []
    for line in (Path(__file__).parent / "printed_cells.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            topic, name = line.strip("[]").split()
            rows, columns = found.setdefault((topic, name), []), []
        elif line and not line.startswith("#"):
            cells = line.split(" | ")
            if columns:
                rows.append({key: cell for key, cell in zip(columns, cells, strict=True) if cell != "-"})
            else:
                columns = cells
    return found


PRINTED = blocks()


def same(cell: Cell, typed: str) -> bool:
    if isinstance(cell, tuple):
        return all(same(item, part) for item, part in zip(cell, typed.split("; "), strict=True))
    if isinstance(cell, bool):
        return typed == ("yes" if cell else "no")
    return typed == cell if isinstance(cell, str) else float(typed) == cell


@pytest.mark.parametrize(("topic", "name"), PRINTED)
def test_every_cell_is_as_printed(topic: str, name: str) -> None:
    rows = table(topic, name).rows
    assert len(rows) == len(PRINTED[topic, name])
    for row, typed in zip(rows, PRINTED[topic, name], strict=True):
        assert row.keys() == typed.keys()
        assert [key for key in row if not same(row[key], typed[key])] == []


def test_no_table_that_was_read_is_left_out_here() -> None:
    read = {
        (topic, found.name)
        for topic in topics()
        for found in tables(topic)
        if found.source.seen is Seen.READ and found.source.authority is not OWN and found.rows
    }
    assert read - PRINTED.keys() == set()
