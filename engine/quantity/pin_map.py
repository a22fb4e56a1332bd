"""Reads a pin map as typed: each position of a connector with what it reaches, ``1-1 2-2 2-5=300 3-OL``.

A pair that is typed shows continuity, or the ohms behind ``=``; a pair that is not typed shows none (over range). Each
position has a row: what it reaches, or ``OL`` for nothing. So one entry says all n x n pairs.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from engine.quantity.alphabet import cleaned, shown_safely
from engine.quantity.amount import Amount, Fault, Question
from engine.quantity.number import Wrong
from engine.quantity.pin_rows import LONGEST_MAP, NAME, NOT_NAMES, NOTHING, Pair, PinRows, listed
from engine.quantity.read import read


def read_pin_map(
    text: str,
    near: Sequence[str] = (),
    far: Sequence[str] = (),
    longest: int = LONGEST_MAP,
    *,
    measured: bool = True,
) -> PinRows | Fault:
    """Return what a pin map means, or the first fault in it with its place.

    Args:
        text: The entry as typed. Nothing in it can make this raise.
        near: The positions at this end, each of which has a row; empty if any may be named.
        far: The positions at the far end; the same as ``near`` if left out.
        longest: Characters that are looked at.
        measured: Whether a pair may have ohms; a map read off a sheet has none.

    Example:
        >>> read_pin_map("1-1, 2-l 3-open", "123", ("1", "left")).label
        '1-1 2-left 3-OL'
        >>> print(read_pin_map("1-1 2-5", "12").caret())
        1-1 2-5
              ^
    """
    plain = cleaned(text, longest)
    if isinstance(plain, Fault):
        return plain
    ends = _Ends(tuple(near), tuple(far) or tuple(near), measured)
    found: list[tuple[int, Pair | str]] = []
    for at, said in _scanned(plain, ends):
        wrong = said if isinstance(said, Wrong) else _again(said, found, at)
        if wrong:
            return Fault(shown_safely(text), wrong.sentence, wrong.column)
        if not isinstance(said, Wrong):
            found.append((at, said))
    rows = _rows(text, found, ends)
    if missing := [position for position in rows.near if position not in {_near(said) for _, said in found}]:
        return Fault(shown_safely(text), _missing(missing), len(text.rstrip()))
    return rows


@dataclass(frozen=True, slots=True)
class _Ends:
    """The positions of both ends, empty if any may be named; and whether a pair may have ohms."""

    near: tuple[str, ...]
    far: tuple[str, ...]
    measured: bool

    @property
    def example(self) -> str:
        near = self.near or ("1", "2")
        far = self.far or near
        return f"{near[0]}-{far[0]}"


_NAMED = re.compile(NAME)
_DASH = re.compile(" *- *")
_OHM = re.compile(r" *= *(?P<ohm>[0-9]*(?:[.,][0-9]+)?(?: ?(?:[kM]?(?:ohms?|Ω)|[kM])(?![A-Za-z0-9]))?)")
_OVER = re.compile(r" *= *(?:[O0]\.?L\.?|open)(?![A-Za-z0-9])", re.IGNORECASE)
_BETWEEN = re.compile(" *, *| +| *$")


def _scanned(text: str, ends: _Ends) -> Iterator[tuple[int, Pair | str | Wrong]]:
    """Give each pair, or the name of a position that reaches nothing, with its column; a fault ends it."""
    at = len(text) - len(text.lstrip())
    if at == len(text):
        yield at, Wrong(f"Nothing was typed: type a row for each position, such as {ends.example}.", 0)
    while at < len(text):
        said, end = _row_part(text, at, ends)
        yield at, said
        if isinstance(said, Wrong):
            return
        between = _BETWEEN.match(text, end)
        if between is None:
            yield end, Wrong(f"Here a row should end: part rows with a space, such as {ends.example}.", end)
            return
        at = between.end()


def _row_part(text: str, at: int, ends: _Ends) -> tuple[Pair | str | Wrong, int]:
    near = _name_at(text, at, ends.near, ends)
    if isinstance(near, Wrong):
        return near, at
    name, end = near
    dash = _DASH.match(text, end)
    if dash is None:
        return Wrong(f"After {name} a dash is wanted and what it reaches, such as {ends.example}.", end), end
    begun = _NAMED.match(text, dash.end())
    if begun and begun[0].lower() in NOT_NAMES:
        return name, begun.end()
    reached = _name_at(text, dash.end(), ends.far, ends)
    if isinstance(reached, Wrong):
        return reached, end
    return _with_ohm(text, Pair(name, reached[0]), reached[1], ends)


def _with_ohm(text: str, pair: Pair, end: int, ends: _Ends) -> tuple[Pair | str | Wrong, int]:
    if text[end:].lstrip()[:1] != "=":
        return pair, end
    if not ends.measured:
        return Wrong(f"Ohms belong to what is measured: type the pair alone, such as {pair.text}.", end), end
    if _OVER.match(text, end):
        sentence = f"A pair that reads {NOTHING} is left out; {pair.near}-{NOTHING} if {pair.near} reaches nothing."
        return Wrong(sentence, text.index("=", end)), end
    found = _OHM.match(text, end)
    start = found.start("ohm") if found else end
    meant = read(found["ohm"] if found else "", "ohm")
    if isinstance(meant, Question):
        return Wrong(f"{meant.sentence} Type it without a comma.", start), end
    if found is None or not isinstance(meant, Amount):
        return Wrong(f"After = the ohms are wanted, such as {pair.near}-{pair.far}=300 or 1.2k.", start), end
    return replace(pair, ohm=meant.number), found.end()


def _name_at(text: str, at: int, names: tuple[str, ...], ends: _Ends) -> tuple[str, int] | Wrong:
    """Return the position that is named at a column and the column after it; a word may be cut short."""
    found = _NAMED.match(text, at)
    if found is None:
        return Wrong(f"Here a position is wanted, such as in {ends.example}; type {NOTHING} for nothing.", at)
    typed = found[0]
    exact = [name for name in names if name.lower() == typed.lower()] or ([] if names else [typed])
    close = [] if typed.isdigit() else [name for name in names if name.lower().startswith(typed.lower())]
    meant = exact or close
    if len(meant) == 1:
        return meant[0], found.end()
    if meant:
        return Wrong(f"{typed} can be {' or '.join(meant)}: type more of it.", at)
    return Wrong(f"There is no position {typed} here: they are {listed(names)}.", at)


def _again(said: Pair | str, before: list[tuple[int, Pair | str]], at: int) -> Wrong | None:
    """Return what is wrong with saying this after all that was said before."""
    near = _near(said)
    same = [other for _, other in before if _near(other) == near]
    if isinstance(said, Pair) and any(isinstance(other, Pair) and other.far == said.far for other in same):
        return Wrong(f"{near} to {said.far} stands here twice: type each pair once.", at)
    if isinstance(said, str) and same:
        reached = [other.far for other in same if isinstance(other, Pair)]
        held = f"{near} reaches {reached[0]} before this" if reached else f"Row {near} stands here twice"
        return Wrong(f"{held}: type what it reaches, or {NOTHING} once.", at)
    if any(isinstance(other, str) for other in same):
        return Wrong(f"{near} reaches nothing before this: type what it reaches, or {NOTHING} alone.", at)
    return None


def _near(said: Pair | str) -> str:
    return said.near if isinstance(said, Pair) else said


def _rows(text: str, found: list[tuple[int, Pair | str]], ends: _Ends) -> PinRows:
    near = ends.near or tuple(dict.fromkeys(_near(said) for _, said in found))
    return PinRows(text, near, tuple(said for _, said in found if isinstance(said, Pair)))


def _missing(missing: list[str]) -> str:
    if len(missing) == 1:
        return f"Row {missing[0]} is missing: type what {missing[0]} reaches, or {missing[0]}-{NOTHING} for nothing."
    return f"Rows {listed(missing)} are missing: type what each reaches, or {NOTHING}, such as {missing[0]}-{NOTHING}."
