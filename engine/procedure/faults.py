"""Faults of a procedure file: one line each, with file, line and place, all found before any is shown."""

from dataclasses import dataclass, field, replace

from engine.procedure.lines import LineIndex


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


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a file: the path of keys to it, and how people are told."""

    file: str
    lines: LineIndex
    path: tuple[str | int, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def line(self) -> int:
        """The line that it stands on, counted from 1."""
        return self.lines.line(self.path)

    def key(self, name: str) -> "Place":
        """Return the place of a key in this table."""
        return Place(self.file, self.lines, (*self.path, name), (*self.words, name))

    def item(self, name: str, number: int, called: str) -> "Place":
        """Return the place of the table ``number`` (from 0) in the list ``name``, called as people are told."""
        return Place(self.file, self.lines, (*self.path, name, number), (*self.words, called))

    def called(self, words: str) -> "Place":
        """Return the same place with its last word replaced."""
        return replace(self, words=(*self.words[:-1], words))

    def __str__(self) -> str:
        return ", ".join(self.words)


@dataclass(slots=True)
class Faults:
    """Collects faults while a procedure is read."""

    found: list[FaultLine] = field(default_factory=list)
    _places: set[tuple[str, str]] = field(default_factory=set, init=False, repr=False)
    _looked_at: int = field(default=0, init=False, repr=False)

    def add(self, place: Place, sentence: str) -> None:
        """Note a fault at a place."""
        self.found.append(FaultLine(place.file, place.line, str(place), sentence))

    def stands_at(self, place: Place) -> bool:
        """Return whether a fault stands at that place already, so that what follows from it is not noted too."""
        self._places.update((fault.file, fault.where) for fault in self.found[self._looked_at :])
        self._looked_at = len(self.found)
        return (place.file, str(place)) in self._places

    def in_order(self) -> tuple[FaultLine, ...]:
        """Return what was found by file and line, each once (a block that is used twice has its faults once)."""
        return tuple(sorted(dict.fromkeys(self.found), key=lambda fault: (fault.file, fault.line)))

    def stop(self) -> None:
        """Raise what was found, if anything was."""
        if self.found:
            raise ProcedureFaults(self.in_order())
