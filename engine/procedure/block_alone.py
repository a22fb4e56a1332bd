"""A block file on its own: what it takes, what it brings, and what is wrong in it whatever it is filled with."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from engine.procedure import faults as told
from engine.procedure.blocks import SHARED, Borrowed, Filling
from engine.procedure.faults import FaultLine, Faults, Place, ProcedureFaults
from engine.procedure.forms import called_item, is_table
from engine.procedure.language import BLOCK, BORROW, STEP
from engine.procedure.lines import LineIndex
from engine.procedure.lint import LintReport
from engine.procedure.tables import read
from engine.procedure.toml import read_toml, text_of
from engine.shipped import folder

STANDS_FOR = "x"
"""What a parameter is filled with: it may stand in a name and in a text."""

_WORK = ("isolates", "proves_dead", "feeds", "hands_on", "works", "proves", "makes")


class NoBlock(LookupError):
    """No block has that name."""


@dataclass(frozen=True, slots=True)
class _Alone(Borrowed):
    """Where the text of a block stands in its own file. What a parameter fills is judged where it is borrowed."""

    def line(self, path: told.Path) -> int:
        """Return the line of the block's file; -1 in what is filled in."""
        if any(path[:end] in self.fills for end in range(len(path), 0, -1)):
            return -1
        end = next((end for end in range(len(path), 0, -1) if path[:end] in self.raw), 0)
        return self.index.line((*self.raw.get(path[:end], ()), *path[end:]))

    def within(self, path: told.Path) -> str:
        """Return nothing: it stands in no other file."""
        return ""


def blocks(own: Path) -> dict[str, Path]:
    """Return the files of all blocks by name: the shipped ones, and those of a folder of one's own, which win."""
    places = (folder("procedures") / "blocks", own / "blocks")
    found = {file.stem: file for place in places for file in place.glob("*.toml")}
    return dict(sorted(found.items()))


def is_block(path: Path) -> bool:
    """Return whether a file is a block: it has steps that stand in no section."""
    try:
        raw = read_toml(text_of(path), path.name)
    except ProcedureFaults:
        return False
    return "section" not in raw and ("step" in raw or "parameters" in raw)


def lint_block(path: Path) -> LintReport:
    """Return what is wrong in a block file by itself; the rest is told where it is borrowed."""
    try:
        text = text_of(path)
        raw = read_toml(text, path.name)
    except ProcedureFaults as unreadable:
        return LintReport(path.name, unreadable.faults, ())
    faults, index = Faults(), LineIndex(text)
    own = Place(path.name, index)
    tables = {name: value for name, value in raw.items() if name in (*SHARED, "step")}
    read(
        {name: [] if name == "step" else value for name, value in raw.items() if name not in SHARED}, BLOCK, own, faults
    )
    if raw.get("id") not in (None, path.stem):
        faults.add(own.key("id"), f'is not the name of the file; call it "{path.stem}"')
    wanted = raw.get("parameters")
    names = list(wanted) if is_table(wanted) else []
    lines = _Alone(path.stem, own, index)
    place = Place(path.name, lines)
    filled = Filling(dict.fromkeys(names, (STANDS_FOR, own)), lines, path.name, faults).table(tables)
    for kind in SHARED:
        if kind in filled:
            BLOCK.keys[kind].form.read(filled[kind], place.key(kind), faults)
    steps = filled.get("step", [])
    for number, step in enumerate(steps if isinstance(steps, list) else []):
        at = place.key("step").item(number, called_item("step", number, step))
        read(step, BORROW if is_table(step) and "borrow" in step else STEP, at, faults)
    found = tuple(fault for fault in faults.in_order() if fault.line >= 0)
    unused = [name for name in names if f"{{{name}}}" not in _without_parameters(text)]
    parameters = own.key("parameters")
    doubts = (
        FaultLine(
            path.name, parameters.key(name).line, f"parameters, {name}", "nothing in the block uses it; take it out"
        )
        for name in unused
    )
    return LintReport(path.name, found, tuple(doubts))


def _without_parameters(text: str) -> str:
    return re.sub(r"^\[parameters\]\n(?:[^\[\n].*\n|\n)*", "", text, flags=re.MULTILINE)


def listing(own: Path) -> list[str]:
    """Return one line for each block: its name, its title, and whether it is one's own."""
    found = {name: (_raw(path).get("title", ""), path) for name, path in blocks(own).items()}
    width = max(len(name) for name in found)
    return [f"{name:<{width}}  {title}{_mine(path)}" for name, (title, path) in found.items()]


def told_of(name: str, own: Path) -> list[str]:
    """Return what one block takes, brings and does, as lines.

    Raises:
        NoBlock: if there is none of that name.
    """
    known = blocks(own)
    if name not in known:
        raise NoBlock(f'there is no block "{name[:40]}"; tugtest blocks lists them')
    raw = _raw(known[name])
    lines = [f"{name}: {raw.get('title', '')}{_mine(known[name])}", "takes"]
    lines += [f"  {each}" for each in _parameters(raw.get("parameters", {}))] or ["  nothing"]
    for kind in ("zone", "piece"):
        rows = raw.get(kind, {})
        lines += (
            [f"brings the {kind} {each}: {row.get('name', '')}" for each, row in rows.items()] if is_table(rows) else []
        )
    return [*lines, "steps", *(f"  {line}" for line in _steps(raw.get("step", [])))]


def _mine(path: Path) -> str:
    return "" if path.parent == folder("procedures") / "blocks" else " (own)"


def _raw(path: Path) -> Mapping[str, object]:
    return read_toml(text_of(path), path.name)


def _parameters(given: object) -> Iterator[str]:
    for name, says in given.items() if is_table(given) else ():
        if is_table(says):
            usual = says.get("default")
            yield f"{name}: {says.get('says', '')} (if left out: {usual if usual else 'nothing'})"
        else:
            yield f"{name}: {says}"


def _steps(steps: object) -> Iterator[str]:
    for step in steps if isinstance(steps, list) else []:
        if "borrow" in step:
            yield f"borrow {step['borrow']}"
            continue
        yield f"{step.get('id', '')}: {step.get('do', '')}"
        for key in _WORK:
            if key in step:
                yield f"  {key} {', '.join(step[key])}"
        for key in ("fact", "read"):
            for name, row in step.get(key, {}).items():
                yield f"  {key} {name}: {row.get('ask', '')}"
