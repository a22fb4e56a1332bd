"""Loads a procedure: text to frozen dataclasses, or every fault of it at once."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import tomli_w

from engine.procedure import references
from engine.procedure.blocks import BlockReader, Expanded, expand
from engine.procedure.build_circuit import build_part
from engine.procedure.build_entry import Declared, build_entry
from engine.procedure.build_step import build_step
from engine.procedure.faults import FaultLine, Faults, Place, ProcedureFaults
from engine.procedure.fields import Fields, read
from engine.procedure.lines import LineIndex
from engine.procedure.model import Known, Procedure, Section
from engine.procedure.tables import ENTRY, PROCEDURE, STEP
from engine.procedure.toml import normalised, read_toml, text_of

__all__ = ["FaultLine", "ProcedureFaults", "fingerprint", "load", "load_text", "read_logged"]


@dataclass(frozen=True, slots=True)
class Loaded:
    """A procedure as far as it could be read. ``steps`` and ``entries`` are the tables by id, for their places."""

    procedure: Procedure
    faults: Faults
    place: Place
    steps: Mapping[str, Fields]
    entries: Mapping[str, Fields]


def load(path: Path) -> Procedure:
    """Return the procedure of a file. Its blocks are the files in the folder ``blocks`` beside it.

    Args:
        path: The TOML file.

    Raises:
        ProcedureFaults: every fault of the file and its blocks, each with its place.
    """
    return load_text(text_of(path), path.name, block_reader=blocks_beside(path))


def blocks_beside(path: Path) -> BlockReader:
    """Return a reader of the blocks that stand beside a procedure file."""

    def reader(name: str) -> str | None:
        block = path.parent / "blocks" / f"{name}.toml"
        return text_of(block) if block.is_file() else None

    return reader


def load_text(text: str, name: str, *, block_reader: BlockReader = lambda block: None) -> Procedure:
    """Return the procedure of a text.

    Args:
        text: The TOML text.
        name: What faults call the file.
        block_reader: Gives the text of a block; without one, no block can be used.

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
    raw = read_toml(text, name)
    faults = Faults()
    place = Place(name, LineIndex(text))
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
    raw, faults = read_toml(text, path.name), Faults()
    expanded = expand(raw, Place(path.name, LineIndex(text)), blocks_beside(path), faults)
    faults.stop()
    return str(raw["revision"]), hashlib.sha256(expanded_text(raw, expanded).encode()).hexdigest()


class _Loader:
    """Builds one procedure from its raw tables. Each fault is noted and the rest is still read."""

    def __init__(self, raw: Mapping[str, object], place: Place, expanded: Expanded, faults: Faults) -> None:
        self._faults = faults
        self._raw = raw
        self._expanded = expanded
        self._place = place
        self._head = read(_without(raw, "fact", "step"), PROCEDURE, place, faults)
        self._facts = [read(each.raw, ENTRY, each.place, faults) for each in expanded.facts]
        self._steps = [read(each.raw, STEP, each.place, faults) for each in expanded.steps]
        self._readings = [reading for step in self._steps for reading in step.tables("reading")]

    def loaded(self) -> Loaded:
        entries = {entry.text("id"): entry for entry in (*self._facts, *self._readings)}
        steps = {step.text("id"): step for step in self._steps}
        return Loaded(self._procedure(), self._faults, self._place, steps, entries)

    def _procedure(self) -> Procedure:
        head, faults = self._head, self._faults
        scope = Declared([*self._facts, *self._readings]).scope()
        text = expanded_text(self._raw, self._expanded)
        needs = {section.text("id"): section.texts("needs") for section in head.tables("section")}
        circuit = head.table("circuit")
        procedure = Procedure(
            id=head.text("id"),
            title=head.text("title"),
            revision=head.text("revision"),
            summary=head.text("summary"),
            scope=head.text("scope"),
            profile=head.text("profile"),
            tools=head.texts("tools"),
            supplies=head.texts("supplies"),
            stop_and_ask=head.texts("stop_and_ask"),
            facts=tuple(build_entry(fact, scope, faults, default=Known.LABEL) for fact in self._facts),
            circuit=tuple(build_part(part, scope, faults) for part in (circuit.tables("part") if circuit else [])),
            sections=tuple(Section(s.text("id"), s.text("title")) for s in head.tables("section")),
            steps=tuple(build_step(s, needs.get(s.text("section"), ()), scope, faults) for s in self._steps),
            text=text,
            sha256=hashlib.sha256(text.encode()).hexdigest(),
        )
        self._check(procedure)
        return procedure

    def _check(self, procedure: Procedure) -> None:
        faults, sections = self._faults, self._head.tables("section")
        circuit = self._head.table("circuit")
        references.check_repeats("section", sections, faults)
        references.check_repeats("step", self._steps, faults)
        references.check_repeats("entry", [*self._facts, *self._readings], faults)
        references.check_repeats("part", circuit.tables("part") if circuit else [], faults)
        references.check_repeats("item", [item for step in self._steps for item in step.tables("opens")], faults)
        references.check_repeats("item", [item for step in self._steps for item in step.tables("due")], faults)
        self._check_names(procedure, [section.text("id") for section in sections])
        by_id = {step.text("id"): step for step in self._steps}
        references.check_circles(procedure, by_id, faults)

    def _check_names(self, procedure: Procedure, sections: list[str]) -> None:
        steps = [step.id for step in procedure.steps]
        items = [item.id for step in procedure.steps for item in step.opens]
        for section in self._head.tables("section"):
            references.check_names(section, "needs", steps, "a step", self._faults)
        for step in self._steps:
            for key in ("needs", "voids", "ends"):
                references.check_names(step, key, steps, "a step", self._faults)
            references.check_names(step, "asks", [fact.id for fact in procedure.facts], "a fact", self._faults)
            references.check_names(step, "closes", items, "an item", self._faults)
            references.check_repeats("part", step.tables("part"), self._faults)
            references.check_names(step, "section", sections, "a section", self._faults)


def expanded_text(raw: Mapping[str, object], expanded: Expanded) -> str:
    """Return the TOML text of a procedure with its blocks expanded, the same for the same tables."""
    facts, steps = ([each.raw for each in placed] for placed in (expanded.facts, expanded.steps))
    tables = {name: value for name, value in raw.items() if name not in ("fact", "step")}
    return tomli_w.dumps({**tables, **({"fact": facts} if facts else {}), "step": steps}, multiline_strings=True)


def _without(raw: Mapping[str, object], *names: str) -> dict[str, object]:
    return {name: ([] if name in names and isinstance(value, list) else value) for name, value in raw.items()}
