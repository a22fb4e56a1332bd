"""The reviewer's index: what was audited, by the digest of its bytes, in SQLite in the user's cache.

What another program judged is not used: each line is kept with the digest of all that decides a verdict.
Deleting it loses no log and no mark: the next look audits anew. Heads of chains are remembered by file, so that a chain
that was built anew behind the reviewer's back is found as long as the index stands.
"""

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple, Self

from engine.program import program_digest
from engine.review.kept import Packed, files_from, row_from, values_from
from engine.review.row import LogRow
from engine.review.values import Measured

AT_ONCE = 500
"""Files that are asked about at once [count]."""

_KNOWN = "select sha256, row, head, files, heads from audited where sha256 in ({}) and rules = ?"
_VALUES = "select sha256, vals from audited where sha256 in ({}) and rules = ?"
_SEEN = "select path, sha256, head, events, heads from looked_at where path in ({})"

_TABLES = """
create table if not exists audited (
  sha256 text not null, rules text not null, head text not null, row text not null, vals text not null,
  files text not null, heads text not null, primary key (sha256, rules));
create table if not exists looked_at (path text primary key, sha256 text not null, head text not null,
  events integer not null, heads text not null);
create table if not exists note (asked text primary key, said text not null) without rowid;
"""


def index_path() -> Path:
    """Return where the index stands: in the user's cache."""
    from platformdirs import user_cache_path  # local: only a review needs it

    return user_cache_path("tugtest", appauthor=False) / "review.sqlite"


@dataclass(frozen=True, slots=True)
class Known:
    """What the index says of some bytes: their line, the head and all heads of their chain, their files."""

    row: LogRow
    head: str
    files: tuple[tuple[str, str], ...]
    heads: str


class Seen(NamedTuple):
    """What was seen of a file: digest, whole head, number of events, and all heads as ``kept.short_heads``."""

    sha256: str
    head: str
    events: int
    heads: str


class Index:
    """An open index. One that cannot be read is made anew; where none can be written, it is kept in memory.

    ``path`` is where it stands, None in memory.
    """

    def __init__(self, path: Path | None = None) -> None:
        self._db, self.path = _opened(path)

    def close(self) -> None:
        """Write what is not written yet, and close."""
        with suppress(sqlite3.Error):
            self._db.commit()
        self._db.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def known(self, digests: Mapping[Path, str]) -> dict[Path, Known]:
        """Return what is kept for some files by the digest of their bytes, under their present names."""
        kept = {row[0]: row[1:] for row in self._some(_KNOWN, list(set(digests.values())), program_digest())}
        found: dict[Path, Known] = {}
        for path, digest in digests.items():
            if digest in kept:
                with suppress(ValueError, TypeError, KeyError):
                    row, head, files, heads = kept[digest]
                    found[path] = Known(row_from(row, path.name), str(head), files_from(files), str(heads))
        return found

    def values(self, digests: Iterable[str]) -> dict[str, tuple[Measured, ...]]:
        """Return the measured values kept for files, by the digest of their bytes."""
        return {digest: values_from(text) for digest, text in self._some(_VALUES, list(set(digests)), program_digest())}

    def keep(self, packed: Iterable[Packed]) -> None:
        """Keep audited logs."""
        rows = [(p.sha256, program_digest(), p.head, p.row, p.values, p.files, p.heads) for p in packed]
        with suppress(sqlite3.Error):
            self._db.executemany("insert or replace into audited values (?, ?, ?, ?, ?, ?, ?)", rows)
            self._db.commit()

    def seen(self, paths: Iterable[Path]) -> dict[str, Seen]:
        """Return what was seen of files when they were looked at last, by path."""
        rows = self._some(_SEEN, [str(path) for path in paths])
        return {
            str(path): Seen(str(sha256), str(head), int(events), str(heads))
            for path, sha256, head, events, heads in rows
        }

    def see(self, looked_at: Mapping[Path, Seen]) -> None:
        """Remember what was seen of files."""
        with suppress(sqlite3.Error):
            rows = [(str(path), *told) for path, told in looked_at.items()]
            self._db.executemany("insert or replace into looked_at values (?, ?, ?, ?, ?)", rows)
            self._db.commit()

    def note(self, asked: str) -> str:
        """Return what was noted under a name; empty if nothing was."""
        found = self._one("select said from note where asked = ?", asked)
        return str(found[0]) if found else ""

    def take_note(self, asked: str, said: str) -> None:
        """Note something that costs more to work out than to remember."""
        with suppress(sqlite3.Error):
            self._db.execute("insert or replace into note values (?, ?)", (asked, said))
            self._db.commit()

    def _some(self, asked: str, wanted: Sequence[str], *values: str) -> Iterator[tuple[Any, ...]]:
        """Yield the rows whose key is one of those wanted, a handful at a time."""
        for at in range(0, len(wanted), AT_ONCE):
            some = wanted[at : at + AT_ONCE]
            try:
                yield from self._db.execute(asked.format(", ".join("?" * len(some))), (*some, *values)).fetchall()
            except sqlite3.Error:
                return

    def _one(self, asked: str, *values: str) -> Any:  # noqa: ANN401 - a row of the database
        try:
            return self._db.execute(asked, values).fetchone()
        except sqlite3.Error:
            return None


def _opened(path: Path | None) -> tuple[sqlite3.Connection, Path | None]:
    for attempt in range(2):
        try:
            if path is None:
                break
            path.parent.mkdir(parents=True, exist_ok=True)
            return _made(sqlite3.connect(path, timeout=2)), path
        except (sqlite3.OperationalError, OSError):
            break
        except sqlite3.DatabaseError:
            if attempt == 0 and path is not None:
                with suppress(OSError):
                    path.unlink()
    return _made(sqlite3.connect(":memory:")), None


def _made(db: sqlite3.Connection) -> sqlite3.Connection:
    try:
        db.executescript(f"pragma synchronous = off; {_TABLES}")
    except sqlite3.Error:
        db.close()
        raise
    return db
