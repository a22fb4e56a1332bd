"""The head of a procedure file: its id, title and summary, without reading the steps; what a list of them needs."""

from dataclasses import dataclass, replace
from pathlib import Path

from engine.procedure.faults import FaultLine, ProcedureFaults
from engine.procedure.toml import read_toml, text_of
from engine.shipped import is_own, known


@dataclass(frozen=True, slots=True)
class Head:
    """A procedure in one line."""

    id: str
    title: str
    summary: str


def head(path: Path) -> Head:
    """Return the head of a procedure file: what stands before its first table.

    Args:
        path: The TOML file. Its steps may have faults: they are told when the procedure is loaded.

    Raises:
        ProcedureFaults: if the file cannot be read, its head is malformed, or a text of it is missing.
    """
    lines = text_of(path).split("\n")
    end = next((at for at, line in enumerate(lines) if line.startswith("[")), len(lines))
    found = read_toml("\n".join(lines[:end]), path.name)
    texts = {name: found.get(name) for name in ("id", "title", "summary")}
    for name, text in texts.items():
        if not isinstance(text, str):
            raise ProcedureFaults((FaultLine(path.name, 1, "", f'"{name}" is missing: a text before the first table'),))
    return Head(**{name: str(text) for name, text in texts.items()})


def heads() -> tuple[tuple[Head, ...], tuple[str, ...]]:
    """Return the heads of all procedures, one's own called so, by their names; and what is wrong with the others."""
    found, refused = [], []
    for name, path in known().items():
        try:
            read = head(path)
            found.append(replace(read, id=name, summary=f"{read.summary} (own)") if is_own(path) else read)
        except ProcedureFaults as faults:
            refused.append(str(faults))
    return tuple(found), tuple(refused)
