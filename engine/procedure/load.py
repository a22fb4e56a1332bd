"""Loads a procedure: text to frozen dataclasses, or every fault of it at once."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from engine.procedure.blocks import SHARED, BlockReader, Expanded, Placed, expand
from engine.procedure.build import build_step, entry_rows
from engine.procedure.circuit import build_part
from engine.procedure.faults import FaultLine, Faults, Place, ProcedureFaults
from engine.procedure.forms import is_table
from engine.procedure.language import PROCEDURE, STEP
from engine.procedure.lines import LineIndex
from engine.procedure.model import Procedure
from engine.procedure.references import check_references
from engine.procedure.rows import asks, unit_of
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields, read
from engine.procedure.toml import normalised, read_toml, text_of
from engine.procedure.write import written
from engine.shipped import folder

__all__ = ["FaultLine", "ProcedureFaults", "fingerprint", "load", "load_text", "read_logged"]


@dataclass(frozen=True, slots=True)
class Loaded:
    """A procedure as far as it could be read, and the places of its parts in the author's file.

    ``limits`` and ``checks`` are by id of the step, in the order of those of the step. ``blocks`` is where each block
    is borrowed first, by its name.
    """

    procedure: Procedure
    faults: Faults
    place: Place
    steps: Mapping[str, Place]
    entries: Mapping[str, Place]
    limits: Mapping[str, tuple[Place, ...]]
    checks: Mapping[str, tuple[Place, ...]]
    blocks: Mapping[str, Place]


def load(path: Path) -> Procedure:
    """Return the procedure of a file.

    Args:
        path: The TOML file. Its blocks stand in the folder ``blocks`` beside it, or are shipped with the program.

    Raises:
        ProcedureFaults: every fault of the file and its blocks, each with its place in the file.
    """
    return load_text(text_of(path), path.name, block_reader=blocks_of(path))


def blocks_of(path: Path) -> BlockReader:
    """Return a reader of the blocks that a procedure file may borrow: those beside it first, then the shipped ones."""

    def reader(name: str) -> str | None:
        return next((text_of(block) for block in _blocks(path, name) if block.is_file()), None)

    return reader


def stands_for_shipped(path: Path, name: str) -> bool:
    """Return whether a block beside a procedure file is used in place of a shipped one of the same name."""
    own, shipped = _blocks(path, name)
    return own.is_file() and shipped.is_file() and not own.samefile(shipped)


def _blocks(path: Path, name: str) -> tuple[Path, Path]:
    return path.parent / "blocks" / f"{name}.toml", folder("procedures") / "blocks" / f"{name}.toml"


def load_text(text: str, name: str, *, block_reader: BlockReader = lambda block: None) -> Procedure:
    """Return the procedure of a text.

    Args:
        text: The TOML text.
        name: What faults call the file.
        block_reader: Gives the text of a block; without one, no block can be borrowed.

    Raises:
        ProcedureFaults: every fault, each with its place.
    """
    loaded = read_all(text, name, block_reader)
    loaded.faults.stop()
    return loaded.procedure


def read_all(text: str, name: str, block_reader: BlockReader) -> Loaded:
    """Return the procedure of a text as far as it can be read, with its faults and the places of its parts.

    Raises:
        ProcedureFaults: if the text is malformed, or a block of it cannot be had.
    """
    text = normalised(text)
    faults, place = Faults(), Place(name, LineIndex(text))
    raw = read_toml(text, name)
    expanded = expand(raw, place, block_reader, faults)
    whole = not faults.found
    loader = _Loader(raw, place, expanded, faults)
    if not whole:
        faults.stop()  # what rests on the steps of a block that cannot be had would be told as unknown
    return loader.loaded()


@lru_cache(maxsize=64)
def read_logged(text: str) -> Procedure:
    """Return the procedure that a session log holds, from its text with all blocks expanded.

    The same text gives the same object again: a cohort of logs holds the same procedure thousands of times.

    Raises:
        ProcedureFaults: every fault, each with its place in that text.
    """
    return load_text(text, "procedure in the log")


def fingerprint(path: Path) -> tuple[str, str]:
    """Return the revision of a procedure file and the digest that its logs carry, without building the procedure.

    Raises:
        ProcedureFaults: if the text is malformed, or a block of it cannot be had.
        KeyError: if it says no revision.
    """
    text = normalised(text_of(path))
    faults, place = Faults(), Place(path.name, LineIndex(text))
    raw = read_toml(text, path.name)
    expanded = expand(raw, place, blocks_of(path), faults)
    faults.stop()
    return str(raw["revision"]), hashlib.sha256(expanded_text(raw, expanded).encode()).hexdigest()


def expanded_text(raw: Mapping[str, object], expanded: Expanded) -> str:
    """Return the text of a procedure with its blocks expanded, the same for the same tables."""
    shared = {name: {row: placed.raw for row, placed in rows.items()} for name, rows in expanded.shared.items() if rows}
    sections = raw.get("section")
    pairs = zip(sections if isinstance(sections, list) else [], expanded.sections, strict=True)
    whole = [{**section, "step": [step.raw for step in steps]} for section, steps in pairs if is_table(section)]
    head = {name: value for name, value in raw.items() if name not in ("circuit", "section", *SHARED)}
    return written({**head, **shared, "circuit": raw.get("circuit", {}), "section": whole})


class _Loader:
    """Builds one procedure from its raw tables. Each fault is noted and the rest is still read."""

    def __init__(self, raw: Mapping[str, object], place: Place, expanded: Expanded, faults: Faults) -> None:
        self._faults = faults
        self._text = expanded_text(raw, expanded)
        self._expanded = expanded
        bare = {name: value for name, value in raw.items() if name not in SHARED or not is_table(value)}
        head = read(_without_steps(bare), PROCEDURE, place, faults)
        shared = {kind: self._rows(kind, rows) for kind, rows in expanded.shared.items() if rows}
        self._head = Fields(PROCEDURE, place, {**head.values, **shared}, head.wrong)
        self._steps = [read(step.raw, STEP, step.place, faults) for step in expanded.steps]
        self._entries = [(name, row) for step in self._steps for name, row in entry_rows(step)]

    def _rows(self, kind: str, rows: Mapping[str, Placed]) -> dict[str, Fields]:
        """Return the rows of a table that blocks share, read each at its own place."""
        form = PROCEDURE.keys[kind].form
        found = [form.read({name: row.raw}, row.place, self._faults) for name, row in rows.items()]
        return {name: fields for each in found if is_table(each) for name, fields in each.items()}

    def loaded(self) -> Loaded:
        """Return the procedure with what is wrong in it."""
        scope = self._scope()
        sections = [fields.make(scope, title=fields.said("title")) for fields in self._head.rows("section")]
        of_step = [sec.id for sec, steps in zip(sections, self._expanded.sections, strict=True) for _ in steps]
        steps = [build_step(step, section, scope) for step, section in zip(self._steps, of_step, strict=True)]
        procedure: Procedure = self._head.make(
            scope,
            facts=tuple(fact for built in steps for fact in built.facts),
            circuit=tuple(build_part(name, part, scope) for name, part in self._head.by_id("circuit").items()),
            sections=tuple(sections),
            steps=tuple(built.step for built in steps),
            text=self._text,
            sha256=hashlib.sha256(self._text.encode()).hexdigest(),
        )
        check_references(procedure, self._head, self._steps, self._entries, self._faults)
        return Loaded(
            procedure,
            self._faults,
            self._head.place,
            steps={built.step.id: fields.place for built, fields in zip(steps, self._steps, strict=True)},
            entries={name: row.place for name, row in self._entries},
            limits={built.step.id: built.limit_places for built in steps},
            checks={built.step.id: built.check_places for built in steps},
            blocks=self._expanded.blocks,
        )

    def _scope(self) -> Scope:
        units = {name: unit_of(row) for name, row in self._entries if asks(row)}
        choices = {name: tuple(row.values["one_of"]) for name, row in self._entries if "one_of" in row.values}
        unread = frozenset(name for name, _ in self._entries if name not in units)
        scope = Scope(units, choices, unread, {}, self._faults)
        sources = {name: row.make(scope) for name, row in self._head.by_id("source").items()}
        return Scope(units, choices, unread, sources, self._faults)


def _without_steps(raw: Mapping[str, object]) -> dict[str, object]:
    """Return the tables of a procedure without the steps, which are read each at its own place."""
    sections = raw.get("section")
    if not isinstance(sections, list):
        return dict(raw)
    bare = [
        {**each, "step": []} if is_table(each) and isinstance(each.get("step"), list) else each for each in sections
    ]
    return {**raw, "section": bare}
