"""The sessions in a folder, one line each: enough for the first screen, read without writing."""

from dataclasses import dataclass
from pathlib import Path

from engine.procedure.load import read_logged
from engine.procedure.model import Procedure
from engine.session.apply import fold
from engine.session.codec import from_flat
from engine.session.scan import Scan, read_log
from engine.session.state import State

MOST = 60
"""How many logs the first screen looks at, the newest by name first; a project rule."""


@dataclass(frozen=True, slots=True)
class ShelfLine:
    """One log: its file, what it holds, or the problem with it."""

    path: Path
    state: State | None
    procedure: Procedure | None
    problem: str = ""


def shelf(folder: Path, most: int = MOST) -> tuple[ShelfLine, ...]:
    """Return the newest logs of a folder; an empty tuple if there is no folder."""
    try:
        paths = sorted((p for p in folder.iterdir() if p.suffix == ".toml"), key=lambda p: p.name, reverse=True)
    except OSError:
        return ()
    return tuple(_line(path) for path in paths[:most])


def _line(path: Path) -> ShelfLine:
    found = read_log(path)
    if found.header is None:
        return ShelfLine(path, None, None, found.sentence)
    try:
        return ShelfLine(
            path, state_of(found), read_logged(str(found.header.get("procedure_text", ""))), _problem(found)
        )
    except ValueError as problem:
        return ShelfLine(path, None, None, str(problem))


def state_of(found: Scan) -> State:
    """Return the state that the readable events of a log fold to."""
    return fold(from_flat(event) for event in found.events)


def _problem(found: Scan) -> str:
    return "" if found.state in ("whole", "torn") else found.sentence
