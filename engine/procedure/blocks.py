"""Replaces each ``borrow`` among the steps by the steps of its block, with the block's parameters filled in."""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from engine.nearest import nearest
from engine.procedure.faults import Faults, Path, Place, ProcedureFaults
from engine.procedure.forms import called_item, is_table, short
from engine.procedure.language import BLOCK, BORROW
from engine.procedure.lines import LineIndex
from engine.procedure.tables import Fields, read
from engine.procedure.toml import normalised, read_toml

BlockReader = Callable[[str], str | None]
"""Gives the text of a block by its name, or None if there is none."""

DEEPEST = 4
"""Blocks that may stand inside one another (project rule)."""

MOST = 500
"""Steps, and blocks, that a procedure may have when expanded (project rule)."""

SHARED = ("source", "zone", "piece")
"""The tables that a block adds to those of the procedure."""

_GAP = re.compile(r"\{([a-z][a-z0-9_]*)\}")

_Value = str | list[str]


@dataclass(frozen=True, slots=True)
class Placed:
    """A raw table and where it stands in the author's file."""

    raw: object
    place: Place


@dataclass(slots=True)
class Expanded:
    """The steps of each section with those of blocks at their places, and what blocks share with the procedure.

    ``shared`` are the tables of ``SHARED`` by name; a place is that of the table around. ``blocks`` is where each block
    is borrowed first.
    """

    sections: list[list[Placed]] = field(default_factory=list)
    shared: dict[str, dict[str, Placed]] = field(default_factory=lambda: {name: {} for name in SHARED})
    blocks: dict[str, Place] = field(default_factory=dict)
    facts: dict[str, str] = field(default_factory=dict)
    uses: int = 0

    @property
    def steps(self) -> list[Placed]:
        """All steps in working order."""
        return [step for section in self.sections for step in section]


@dataclass(frozen=True, slots=True)
class Borrowed:
    """Where the text of a block stands for its reader: at the ``borrow``, or at what fills a gap of it.

    ``raw`` are the paths in the block's own text, ``fills`` the places of what was filled in, by the paths afterwards.
    """

    block: str
    at: Place
    index: LineIndex
    raw: dict[Path, Path] = field(default_factory=dict)
    fills: dict[Path, Place] = field(default_factory=dict)

    def line(self, path: Path) -> int:
        """Return the line of the author's file."""
        filled = next((self.fills[path[:end]] for end in range(len(path), 0, -1) if path[:end] in self.fills), self.at)
        return filled.line

    def within(self, path: Path) -> str:
        """Return the words for the block and its line: ``in block "crimp" line 12``."""
        end = next((end for end in range(len(path), 0, -1) if path[:end] in self.raw), 0)
        line = self.index.line((*self.raw.get(path[:end], ()), *path[end:]))
        around = self.at.lines.within(self.at.path)
        return ", ".join(filter(None, (f'in block "{self.block}" line {line}', around)))


def expand(raw: Mapping[str, object], place: Place, reader: BlockReader, faults: Faults) -> Expanded:
    """Return the steps and the shared tables of a procedure, blocks expanded.

    Args:
        raw: The procedure's table as TOML gave it.
        place: Where it stands.
        reader: Gives the text of a block.
        faults: Takes what is wrong with a borrow or a block.
    """
    way = _Way(reader, faults, Expanded())
    way.share(raw, place)
    for number, section in enumerate(_listed(raw.get("section"))):
        steps = _listed(section.get("step")) if is_table(section) else []
        around = place.key("section").item(number, "section").key("step")
        way.found.sections.append([])
        way.take(steps, around)
    return way.found


def _listed(value: object) -> list[object]:
    return value if isinstance(value, list) else []


@dataclass(frozen=True, slots=True)
class _Way:
    """How deep the expansion is: the blocks around, outermost first; what it has found so far."""

    reader: BlockReader
    faults: Faults
    found: Expanded
    inside: tuple[str, ...] = ()
    texts: dict[str, tuple[dict[str, object], LineIndex]] = field(default_factory=dict)

    def share(self, raw: Mapping[str, object], place: Place) -> None:
        """Take in the tables that a procedure or a block shares; the same again is one."""
        for kind in SHARED:
            rows = raw.get(kind)
            for name, row in rows.items() if is_table(rows) else ():
                before = self.found.shared[kind].setdefault(name, Placed(row, place.key(kind)))
                if before.raw != row:
                    sentence = f'"{name}" says something else on line {before.place.row(name).line}; call one otherwise'
                    self.faults.add(place.key(kind).row(name).name, sentence)

    def take(self, steps: list[object], around: Place) -> None:
        """Take in the steps of one section or block."""
        for number, step in enumerate(steps):
            place = around.item(number, called_item("step", number, step))
            place = Place(place.file, place.lines, place.path, place.words[-1:])
            if is_table(step) and "borrow" in step:
                self._borrow(step, place)
            else:
                self.found.sections[-1].append(Placed(self._with_new_facts(step), place))

    def _with_new_facts(self, step: object) -> object:
        """Return a step of a block without the facts that the block has brought already, whole rows alike."""
        if not self.inside or not is_table(step) or not is_table(step.get("fact")):
            return step
        spelled = {name: json.dumps(row, sort_keys=True, default=str) for name, row in step["fact"].items()}
        new = {name: step["fact"][name] for name, row in spelled.items() if self.found.facts.get(name) != row}
        self.found.facts.update(spelled)
        return {name: new if name == "fact" else value for name, value in step.items() if name != "fact" or new}

    def _borrow(self, step: dict[str, object], place: Place) -> None:
        fields = read(step, BORROW, place, self.faults)
        name = fields.text("borrow")
        if not name:
            return
        if fault := self._cannot(name):
            self.faults.add(fields.at("borrow"), fault)
            return
        self.found.blocks.setdefault(name, fields.at("borrow"))
        block = self._block(name, fields.at("borrow"))
        if block is None:
            return
        raw, index = block
        own = Place(place.file, Borrowed(name, fields.at("borrow"), index))
        tables = {key: value for key, value in raw.items() if key in (*SHARED, "step")}
        bare = {key: value for key, value in raw.items() if key not in tables}
        head = read({**bare, "step": []}, BLOCK, own, self.faults)
        for given in _sets(fields):
            self.found.uses += 1
            if not self._fits(given, head, fields):
                return
            lines = Borrowed(name, fields.at("borrow"), index)
            filled = Filling(_whole(given, head, fields.at("borrow")), lines, place.file, self.faults).table(tables)
            inner = _Way(self.reader, self.faults, self.found, (*self.inside, name), self.texts)
            inner.share(filled, Place(place.file, lines))
            inner.take(_listed(filled.get("step")), Place(place.file, lines).key("step"))

    def _block(self, name: str, at: Place) -> tuple[dict[str, object], LineIndex] | None:
        if name not in self.texts:
            try:
                text = self.reader(name)
                if text is None:
                    self.faults.add(at, f'there is no block "{name}"; it would be the file blocks/{name}.toml')
                    return None
                self.texts[name] = read_toml(normalised(text), ""), LineIndex(normalised(text))
            except ProcedureFaults as unreadable:
                for fault in unreadable.faults:
                    self.faults.add(at, f'block "{name}" line {fault.line}: {fault.sentence}')
                return None
        return self.texts[name]

    def _cannot(self, name: str) -> str:
        if name in self.inside:
            way = " -> ".join((*self.inside[self.inside.index(name) :], name))
            return f'block "{name}" borrows itself: {way}; take one out'
        if len(self.inside) >= DEEPEST:
            return f"more than {DEEPEST} blocks inside one another; use fewer"
        if len(self.found.steps) + self.found.uses < MOST:
            return ""
        return f"more than {MOST} blocks or steps; a procedure is never so long"

    def _fits(self, given: "Given", head: Fields, fields: Fields) -> bool:
        """Return whether a block is given what it takes; what is wrong is noted at what fills it."""
        wanted = head.values.get("parameters", {})
        name, place = fields.text("borrow"), fields.at("fill" if fields.has("fill") else "borrow")
        absent = [one for one, says in wanted.items() if one not in given and not is_table(says)]
        extra = [one for one in given if one not in wanted]
        if fields.wrong or head.wrong:
            return False
        for one in absent:
            self.faults.add(place, f'block "{name}" needs "{one}": {wanted[one]}')
        for one in extra:
            hint = nearest(one, wanted, f"it takes {', '.join(wanted) or 'none'}")
            self.faults.add(given[one][1], f'block "{name}" has no parameter "{short(one)}"; {hint}')
        return not (absent or extra)


Given = Mapping[str, tuple[_Value, Place]]
"""What the parameters of a block are given, and where."""


def _sets(fields: Fields) -> Iterator[Given]:
    """Give the parameters of each time the block stands here: once, or once for each of ``fill_each``."""
    shared = {name: (value, fields.at("fill").row(name)) for name, value in fields.values.get("fill", {}).items()}
    if not fields.has("fill_each"):
        yield shared
    for number, each in enumerate(fields.values.get("fill_each", ())):
        place = fields.at("fill_each").item(number, f"fill_each {number + 1}")
        yield {**shared, **{name: (value, place.key(name)) for name, value in each.items()}}


def _whole(given: Given, head: Fields, at: Place) -> Given:
    """Return what is given, with the defaults of the others."""
    wanted = head.values.get("parameters", {})
    return {**{name: (says["default"], at) for name, says in wanted.items() if is_table(says)}, **given}


@dataclass(frozen=True, slots=True)
class Filling:
    """Fills the gaps of one block, and remembers where each value was given."""

    given: Given
    lines: Borrowed
    file: str
    faults: Faults

    def table(self, raw: dict[str, object], path: Path = (), before: Path = ()) -> dict[str, object]:
        """Return a table filled in. A key whose gap is filled with nothing is left out.

        Args:
            raw: The table as the block has it.
            path: Its path afterwards.
            before: Its path in the block.
        """
        filled: dict[str, object] = {}
        for name, value in raw.items():
            key = str(self._text(name, (*path, name, ""), (*before, name)))
            self.lines.raw[(*path, key)] = (*before, name)
            if name != key:
                self.lines.fills[(*path, key, "")] = self.lines.fills.pop((*path, name, ""))
            found = self._value(value, (*path, key), (*before, name))
            if found == value or found not in ("", []):
                filled[key] = found
        return filled

    def _value(self, value: object, path: Path, before: Path) -> object:
        if isinstance(value, str):
            return self._text(value, path, before)
        if isinstance(value, list):
            return self._list(value, path, before)
        return self.table(value, path, before) if is_table(value) else value

    def _list(self, items: list[object], path: Path, before: Path) -> list[object]:
        filled: list[object] = []
        for number, item in enumerate(items):
            at = (*path, len(filled))
            found = self._value(item, at, (*before, number))
            spliced = found if isinstance(found, list) and isinstance(item, str) else [found]
            for place in range(len(filled), len(filled) + len(spliced)):
                self.lines.raw[(*path, place)] = (*before, number)
                if at in self.lines.fills:
                    self.lines.fills[(*path, place)] = self.lines.fills[at]
            filled += [one for one in spliced if one == item or one != ""]
        return filled

    def _text(self, text: str, path: Path, before: Path) -> _Value:
        gaps = _GAP.findall(text)
        for gap in gaps:
            if gap in self.given:
                self.lines.fills.setdefault(path, self.given[gap][1])
            else:
                self.lines.raw[path] = before
                has = ", ".join(self.given) or "none"
                place = Place(self.file, self.lines, path, (short(text),))
                self.faults.add(place, f'"{{{gap}}}" is no parameter of this block; it has {has}')
        if len(gaps) == 1 and text == f"{{{gaps[0]}}}":
            return self.given.get(gaps[0], (text, None))[0]
        return _GAP.sub(lambda gap: _said(self.given.get(gap[1], (gap[0], None))[0]), text)


def _said(value: _Value) -> str:
    return ", ".join(value) if isinstance(value, list) else value
