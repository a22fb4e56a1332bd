"""Faults of a procedure file: one line each, with its line in the author's file, all found before any is shown."""

from dataclasses import dataclass, field, replace
from typing import Protocol

Path = tuple[str | int, ...]
"""The keys, and the numbers in lists from 0, that lead to a place of a TOML text."""


@dataclass(frozen=True, slots=True, order=True)
class FaultLine:
    """One fault or doubt: where it stands, what is wrong, what would be right. ``line`` is 0 where none is known."""

    file: str
    line: int
    where: str
    sentence: str

    def __str__(self) -> str:
        """Return it as one line: ``FILE: line 12, step "strip", limit 1, is: what is wrong, what would be right``."""
        place = ", ".join(part for part in (f"line {self.line}" if self.line else "", self.where) if part)
        return ": ".join(part for part in (self.file, place, self.sentence) if part)


class ProcedureFaults(ValueError):
    """A procedure cannot be used. ``faults`` are all that was found, in the order of the file."""

    def __init__(self, faults: tuple[FaultLine, ...]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


class Lines(Protocol):
    """Says on which line of the author's own file a path stands, and in which block it does, empty if in none."""

    def line(self, path: Path) -> int:
        """Return the line, from 1; 0 for the whole file."""

    def within(self, path: Path) -> str:
        """Return the words for the block: ``in block "crimp" line 12``."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a file: the path of keys to it, and how people are told."""

    file: str
    lines: Lines
    path: Path = ()
    words: tuple[str, ...] = ()

    @property
    def line(self) -> int:
        """The line that it stands on, counted from 1."""
        return self.lines.line(self.path)

    def key(self, name: str) -> "Place":
        """Return the place of a key in this table."""
        return replace(self, path=(*self.path, name), words=(*self.words, name))

    def row(self, name: str) -> "Place":
        """Return the place of a table that stands under its own name in this one, told as ``read.depth``."""
        return replace(self, path=(*self.path, name), words=(*self.words[:-1], f"{self.words[-1]}.{name}"))

    def item(self, number: int, called: str) -> "Place":
        """Return the place of the value ``number`` (from 0) of this list, called as people are told."""
        return replace(self, path=(*self.path, number), words=(*self.words[:-1], called))

    @property
    def name(self) -> "Place":
        """The place of the name itself under which this stands, which a parameter of a block may have given."""
        return replace(self, path=(*self.path, ""))

    def __str__(self) -> str:
        return ", ".join(filter(None, (*self.words, self.lines.within(self.path))))


@dataclass(slots=True)
class Faults:
    """Collects faults while a procedure is read."""

    found: list[FaultLine] = field(default_factory=list)
    unread: set[str] = field(default_factory=set, init=False, repr=False)
    _places: set[str] = field(default_factory=set, init=False, repr=False)

    def add(self, place: Place, sentence: str) -> None:
        """Note a fault at a place."""
        where = str(place)
        self.found.append(FaultLine(place.file, place.line, where, sentence))
        self._places.add(where)
        self.unread.update(place.words[:1])

    def stands_at(self, place: Place) -> bool:
        """Return whether a fault stands at that place already, so that what follows from it is not noted too."""
        return str(place) in self._places

    def in_order(self) -> tuple[FaultLine, ...]:
        """Return what was found by file and line, each once (a block that is used twice has its faults once)."""
        return tuple(sorted(dict.fromkeys(self.found), key=lambda fault: (fault.file, fault.line)))

    def stop(self) -> None:
        """Raise what was found, if anything was."""
        if self.found:
            raise ProcedureFaults(self.in_order())
