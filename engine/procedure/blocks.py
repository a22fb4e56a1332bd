"""Replaces each ``use`` among the steps by the steps of its block, with the block's parameters filled in."""

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from engine.procedure.faults import Faults, Place, ProcedureFaults
from engine.procedure.fields import Fields, called_item, read
from engine.procedure.forms import is_table, short
from engine.procedure.lines import LineIndex
from engine.procedure.tables import BLOCK, USE
from engine.procedure.toml import normalised, read_toml

BlockReader = Callable[[str], str | None]
"""Gives the text of a block by its name, or None if there is none."""

DEEPEST = 4
"""Blocks that may stand inside one another (project rule)."""

MOST = 500
"""Steps, and blocks, that a procedure may have when expanded (project rule)."""

_GAP = re.compile(r"\{([a-z][a-z0-9_]*)\}")

Parameters = Mapping[str, str | list[str]]


@dataclass(frozen=True, slots=True)
class Placed:
    """A raw table and where it stands, in the procedure or in a block."""

    raw: object
    place: Place


@dataclass(slots=True)
class Expanded:
    """The facts and steps of a procedure, with those of its blocks at their places. ``uses`` counts the blocks."""

    facts: list[Placed] = field(default_factory=list)
    steps: list[Placed] = field(default_factory=list)
    uses: int = 0
    _known: set[str] = field(default_factory=set)

    def take_fact(self, fact: Placed) -> None:
        """Take a fact in; the same fact again, from a block that is used twice, is one fact."""
        spelled = json.dumps(fact.raw, sort_keys=True, default=str)
        if spelled not in self._known:
            self._known.add(spelled)
            self.facts.append(fact)


def expand(raw: Mapping[str, object], place: Place, reader: BlockReader, faults: Faults) -> Expanded:
    """Return the facts and steps of a procedure, blocks expanded.

    Args:
        raw: The procedure's table as TOML gave it.
        place: Where it stands.
        reader: Gives the text of a block.
        faults: Takes what is wrong with a use or a block.
    """
    found = Expanded()
    _take(raw, place, _Way(reader, faults), found)
    return found


@dataclass(frozen=True, slots=True)
class _Way:
    """How deep the expansion is: the blocks around, outermost first."""

    reader: BlockReader
    faults: Faults
    inside: tuple[str, ...] = ()

    def into(self, block: str) -> "_Way":
        return _Way(self.reader, self.faults, (*self.inside, block))


def _take(raw: Mapping[str, object], place: Place, way: _Way, found: Expanded) -> None:
    for number, fact in enumerate(_listed(raw.get("fact"))):
        found.take_fact(Placed(fact, place.item("fact", number, called_item("fact", number, fact))))
    for number, step in enumerate(_listed(raw.get("step"))):
        if is_table(step) and "use" in step:
            _use(step, place.item("step", number, f"step {number + 1}"), way, found)
        else:
            found.steps.append(Placed(step, place.item("step", number, called_item("step", number, step))))


def _listed(value: object) -> list[object]:
    return value if isinstance(value, list) else []


def _use(step: dict[str, object], place: Place, way: _Way, found: Expanded) -> None:
    use = read(step, USE, place, way.faults)
    name = use.text("use")
    if not name:
        return
    if fault := _cannot_use(name, way, found):
        way.faults.add(place.key("use"), fault)
        return
    text = way.reader(name)
    if text is None:
        way.faults.add(place.key("use"), f'there is no block "{name}"; it would be the file blocks/{name}.toml')
        return
    file = f"blocks/{name}.toml"
    try:
        block = read_toml(normalised(text), file)
    except ProcedureFaults as malformed:
        way.faults.found += malformed.faults
        return
    at = Place(file, LineIndex(normalised(text)))
    head = read(
        {key: value for key, value in block.items() if key not in ("fact", "step")} | {"step": []},
        BLOCK,
        at,
        way.faults,
    )
    for given in _sets(use):
        found.uses += 1
        if fault := _too_many(found):
            way.faults.add(place.key("use"), fault)
            return
        if not _misses(given, head, use, way.faults):
            _take(_filled_block(block, given, at, way.faults), at, way.into(name), found)


def _cannot_use(name: str, way: _Way, found: Expanded) -> str:
    if name in way.inside:
        return f'block "{name}" uses itself: {" -> ".join((*way.inside, name))}; take one use out'
    if len(way.inside) >= DEEPEST:
        return f"more than {DEEPEST} blocks inside one another; use fewer"
    return _too_many(found)


def _too_many(found: Expanded) -> str:
    if max(found.uses, len(found.steps)) <= MOST:
        return ""
    return f"more than {MOST} blocks or steps; a procedure is never so long"


def _sets(use: Fields) -> list[Parameters]:
    """Return the parameters of each time the block stands here: once, or once a set in ``each``."""
    shared = use.mapping("with")
    sets = use.values.get("each", [{}])
    return [{**shared, **one} for one in sets if is_table(one)]  # type: ignore[attr-defined, dict-item]


def _misses(given: Parameters, head: Fields, use: Fields, faults: Faults) -> bool:
    wanted = head.mapping("parameters")
    name = use.text("use")
    if faults.stands_at(use.place.key("with")):
        return True
    for absent in [parameter for parameter in wanted if parameter not in given]:
        faults.add(use.place.key("with"), f'block "{name}" needs "{absent}": {wanted[absent]}')
    for extra in [parameter for parameter in given if parameter not in wanted]:
        near = get_close_matches(extra, wanted, 1)
        hint = f'did you mean "{near[0]}"?' if near else f"it takes {', '.join(wanted) or 'none'}"
        faults.add(use.place.key("with"), f'block "{name}" has no parameter "{short(extra)}"; {hint}')
    return set(given) != set(wanted)


def _filled_block(block: dict[str, object], given: Parameters, at: Place, faults: Faults) -> dict[str, object]:
    tables: dict[str, object] = {name: _listed(block.get(name)) for name in ("fact", "step")}
    return _filled_table(tables, given, at, faults)


def _filled_table(table: dict[str, object], given: Parameters, at: Place, faults: Faults) -> dict[str, object]:
    filled: dict[str, object] = {}
    for name, value in table.items():
        key = str(_filled_text(name, given, at, faults))
        if isinstance(value, list) and any(map(is_table, value)):
            places = [at.item(name, number, called_item(name, number, item)) for number, item in enumerate(value)]
            filled[key] = [_filled(item, given, place, faults) for item, place in zip(value, places, strict=True)]
        else:
            filled[key] = _filled(value, given, at.key(name), faults)
    return filled


def _filled(value: object, given: Parameters, at: Place, faults: Faults) -> object:
    if isinstance(value, str):
        return _filled_text(value, given, at, faults)
    if isinstance(value, list):
        filled = [_filled(item, given, at, faults) for item in value]
        return [piece for raw, item in zip(value, filled, strict=True) for piece in _spliced(raw, item)]
    return _filled_table(value, given, at, faults) if is_table(value) else value


def _spliced(raw: object, filled: object) -> list[object]:
    return filled if isinstance(raw, str) and isinstance(filled, list) else [filled]


def _filled_text(text: str, given: Parameters, at: Place, faults: Faults) -> str | list[str]:
    gaps = _GAP.findall(text)
    for gap in gaps:
        if gap not in given:
            faults.add(at, f'"{{{gap}}}" is no parameter of this block; it has {", ".join(given) or "none"}')
    if len(gaps) == 1 and text == f"{{{gaps[0]}}}":
        return given.get(gaps[0], text)
    return _GAP.sub(lambda gap: _said(given.get(gap[1], gap[0])), text)


def _said(value: str | list[str]) -> str:
    return ", ".join(value) if isinstance(value, list) else value
