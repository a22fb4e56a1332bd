"""The sessions in a folder, one line each: enough for the first screen, read without writing."""

import re
from dataclasses import dataclass
from pathlib import Path

from engine.procedure.load import read_logged
from engine.procedure.model import Procedure
from engine.session.apply import fold
from engine.session.beside import lies_beside
from engine.session.codec import from_flat
from engine.session.disk_any import demand_plain
from engine.session.folder import logs_in
from engine.session.scan import NOTHING_YET, Scan, read_log
from engine.session.state import State

MOST = 60
"""How many logs are read whatever they hold, the newest by name first [count]; a project rule."""

TAIL = 4096
"""Bytes at the end of an older log in which the end of its job is looked for; a project rule."""


@dataclass(frozen=True, slots=True)
class ShelfLine:
    """One log: its file, what it holds, or the problem with it."""

    path: Path
    state: State | None
    procedure: Procedure | None
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Shelf:
    """The newest logs of a folder and every older one whose job is still open; how many older ones have ended."""

    lines: tuple[ShelfLine, ...]
    older: int = 0


def shelf(folder: Path, most: int = MOST) -> Shelf:
    """Return what stands in a folder; nothing if there is no folder. A job that is open is found however old it is."""
    try:
        paths = logs_in(folder)[::-1]
    except OSError:
        return Shelf(())
    older = [path for path in paths[most:] if not _says_its_end(path)]
    lines = (_line(path) for path in (*paths[:most], *older))
    listed = tuple(line for line in lines if line.state is not None or not lies_beside(line.path))
    return Shelf(listed, len(paths[most:]) - len(older))


def _says_its_end(path: Path) -> bool:
    """Return whether an event near the end of a log closes or stops its job; nothing is proved by that."""
    try:
        demand_plain(path.stat())
        with path.open("rb") as file:
            file.seek(max(0, path.stat().st_size - TAIL))
            return _END.search(file.read()) is not None
    except (OSError, ValueError):
        return False


def _line(path: Path) -> ShelfLine:
    found = read_log(path)
    if found.header is None or not found.events:
        return ShelfLine(path, None, None, found.sentence if found.header is None else NOTHING_YET)
    try:
        return ShelfLine(
            path, state_of(found), read_logged(str(found.header.get("procedure_text", ""))), _problem(found)
        )
    except ValueError as problem:
        return ShelfLine(path, None, None, str(problem))


def state_of(found: Scan) -> State:
    """Return the state that the readable events of a log fold to."""
    return fold(from_flat(event) for event in found.events)


_END = re.compile(rb'\nevent = "(?:closed|stopped)"\n')


def _problem(found: Scan) -> str:
    return "" if found.state in ("whole", "torn") else found.sentence
