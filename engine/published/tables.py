"""The one reader of the printed tables: a topic is a TOML file beside this module, read when first asked for."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import cast

from engine.source import Authority, Seen, Source

Cell = str | float | bool | tuple[str | float, ...]
"""One cell; the key that it stands under carries the unit."""

Row = Mapping[str, Cell]

_FOLDER = Path(__file__).parent
_OWN_KEYS = frozenset({"title", "document", "edition", "place", "authority", "seen", "notes", "rows"})


class NotPrinted(LookupError):
    """A topic, table or row that was asked for is not printed here. Nothing is ever interpolated in its place."""


@dataclass(frozen=True, slots=True)
class Table:
    """One printed table. ``figures`` are the numbers that hold for all of it, ``rows`` its lines as printed."""

    topic: str
    name: str
    title: str
    edition: str
    source: Source
    notes: str
    figures: Row
    rows: tuple[Row, ...]

    def row(self, **wanted: Cell) -> Row:
        """Return the first row whose cells equal ``wanted``.

        Args:
            wanted: Cells by key, such as ``awg="8"`` [as printed].

        Returns:
            The row as printed, units in its keys.

        Raises:
            NotPrinted: if no row has these cells; names the table and the cells.

        Source:
            The table itself.

        Example:
            >>> table("conductor_current", "table5").row(awg="8")["allowable_a_105C"]
            80
        """
        for row in self.rows:
            if all(row.get(key) == cell for key, cell in wanted.items()):
                return row
        asked = ", ".join(f"{key} {cell}" for key, cell in wanted.items())
        raise NotPrinted(f"{self.source.document}, {self.source.place}, has no row for {asked}")

    def column(self, key: str) -> tuple[Cell, ...]:
        """Return one column from top to bottom, without the rows that leave it empty.

        Args:
            key: The column's key [as printed].

        Returns:
            Its cells, in the order of the rows.

        Raises:
            NotPrinted: if no row has that key.

        Source:
            The table itself.

        Example:
            >>> table("conductor_current", "engine_space").column("factor")
            (0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.0)
        """
        cells = tuple(row[key] for row in self.rows if key in row)
        if not cells:
            raise NotPrinted(f"{self.source.document}, {self.source.place}, has no column {key}")
        return cells


def number(row: Row, key: str) -> float:
    """Return one cell of a row as a number.

    Args:
        row: A row or the figures of a table.
        key: The cell's key [unit in its name].

    Returns:
        The number as printed.

    Raises:
        NotPrinted: if the row has no such number.

    Source:
        The table that the row is from.

    Example:
        >>> number(table("conductor_size", "constants").figures, "temp_coefficient_20C_per_C")
        0.00393
    """
    cell = row.get(key)
    if isinstance(cell, bool) or not isinstance(cell, int | float):
        raise NotPrinted(f"no number is printed under {key}")
    return float(cell)


@cache
def table(topic: str, name: str) -> Table:
    """Return one printed table.

    Args:
        topic: The file's name without its ending, such as ``conductor_current``.
        name: The table's name in that file, such as ``table5``.

    Returns:
        The table, the same object each time.

    Raises:
        NotPrinted: if there is no such topic or table; names what there is.

    Source:
        Each table names its own.

    Example:
        >>> str(table("overcurrent", "location").source)
        '33 CFR part 183 subpart I, 183.455(b), 183.460(a) (regulation, read)'
    """
    found = _topic(topic)
    if name not in found:
        raise NotPrinted(f'topic {topic} has no table "{name}"; it has {", ".join(found)}')
    return _table(topic, name, found[name])


@cache
def topics() -> tuple[str, ...]:
    """Return the names of all topics, in the order of the alphabet.

    Returns:
        The names, without reading any table.

    Source:
        The files beside this module.

    Example:
        >>> "conductor_current" in topics()
        True
    """
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


def tables(topic: str) -> tuple[Table, ...]:
    """Return every table of a topic, in the order of its file.

    Args:
        topic: The topic's name, as ``topics`` gives it.

    Returns:
        The tables.

    Raises:
        NotPrinted: if there is no such topic.

    Source:
        Each table names its own.

    Example:
        >>> [t.name for t in tables("interrupting")]
        ['by_cranking_amps', 'large_bank']
    """
    return tuple(table(topic, name) for name in _topic(topic))


@cache
def _topic(topic: str) -> Mapping[str, Mapping[str, object]]:
    path = _FOLDER / f"{topic}.toml"
    if "/" in topic or not path.is_file():
        raise NotPrinted(f'there is no topic "{topic}"; there are {", ".join(topics())}')
    read = tomllib.loads(path.read_text(encoding="utf-8"))
    return MappingProxyType({name: found for name, found in read.items() if isinstance(found, dict)})


def _table(topic: str, name: str, found: Mapping[str, object]) -> Table:
    edition = str(found.get("edition", ""))
    place = str(found["place"])
    source = Source(Authority(str(found["authority"])), str(found["document"]), place, Seen(str(found["seen"])))
    rows = cast("list[dict[str, object]]", found.get("rows", []))
    return Table(
        topic=topic,
        name=name,
        title=str(found["title"]),
        edition=edition,
        source=source,
        notes=str(found.get("notes", "")),
        figures=_frozen({key: cell for key, cell in found.items() if key not in _OWN_KEYS}),
        rows=tuple(_frozen(row) for row in rows),
    )


def _frozen(cells: Mapping[str, object]) -> Row:
    kept = {key: tuple(cell) if isinstance(cell, list) else cell for key, cell in cells.items()}
    return MappingProxyType(cast("dict[str, Cell]", kept))
