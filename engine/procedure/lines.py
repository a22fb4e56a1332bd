"""On which line of a TOML text each table, key and value stands, found by walking it."""

import re
from collections.abc import Iterator
from functools import cached_property

from engine.procedure.faults import Path

_PART = re.compile(r"""[ \t]*(?:"((?:[^"\\]|\\.)*)"|'([^']*)'|([A-Za-z0-9_-]+))[ \t]*""")
_BETWEEN = re.compile(r"(?:[ \t\r\n,]|#[^\n]*)*")
_VALUE = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}' r"|'''.*?'{3,5}" r'|"(?:[^"\\\n]|\\.)*"' r"|'[^'\n]*'" r"|[^\n,\]}#]*", re.DOTALL
)


class LineIndex:
    """The line, from 1, of each table, key and value of a TOML text that has been read before; made when first asked.

    Example:
        >>> index = LineIndex('id = "a"\\n[[step]]\\nread.b = { mm = [\\n1,\\n2] }\\n')
        >>> index.line(("step", 0, "read", "b", "mm", 1)), index.line(("step", 0, "nothing"))
        (5, 2)
    """

    def __init__(self, text: str) -> None:
        self._text = text

    @cached_property
    def by_path(self) -> dict[Path, int]:
        """Every table, key and value with its line."""
        found: dict[Path, int] = {}
        for path, line in _Walk(self._text).whole():
            found.setdefault(path, line)
        return found

    def line(self, path: Path) -> int:
        """Return the line of the path, or of the nearest table around it; 0 for the whole file."""
        return next((self.by_path[path[:end]] for end in range(len(path), 0, -1) if path[:end] in self.by_path), 0)

    def within(self, path: Path) -> str:
        """Return nothing: no block is around it."""
        return ""


class _Walk:
    """Goes through a text that is known to be TOML, and gives each path with its line."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._line = 1
        self._counts: dict[Path, int] = {}

    def whole(self) -> Iterator[tuple[Path, int]]:
        table: Path = ()
        while self._skip(_BETWEEN) < len(self._text):
            if self._text.startswith("[", self._at):
                table = self._header()
                yield table, self._line
            else:
                yield from self._pair(table)

    def _skip(self, form: re.Pattern[str]) -> int:
        """Go past what matches here, and return where that is."""
        if match := form.match(self._text, self._at):
            self._line += match[0].count("\n")
            self._at = match.end()
        return self._at

    def _header(self) -> Path:
        listed = self._text.startswith("[[", self._at)
        self._at += 2 if listed else 1
        *around, last = self._keys()
        self._at += 2 if listed else 1
        path: Path = ()
        for name in around:
            path = self._last_of((*path, name))
        path = (*path, last)
        if listed:
            self._counts[path] = self._counts.get(path, -1) + 1
        return self._last_of(path)

    def _last_of(self, path: Path) -> Path:
        return (*path, self._counts[path]) if path in self._counts else path

    def _keys(self) -> list[str]:
        names: list[str] = []
        while match := _PART.match(self._text, self._at):
            names.append(next(part for part in match.groups() if part is not None))
            self._at = match.end()
            if not self._text.startswith(".", self._at):
                break
            self._at += 1
        return names or ["?"]

    def _pair(self, table: Path) -> Iterator[tuple[Path, int]]:
        names = self._keys()
        yield from (((*table, *names[:end]), self._line) for end in range(1, len(names) + 1))
        self._at += 1
        yield from self._value((*table, *names))

    def _value(self, path: Path) -> Iterator[tuple[Path, int]]:
        while self._text.startswith((" ", "\t"), self._at):
            self._at += 1
        if self._text.startswith(("[", "{"), self._at):
            closing = "]" if self._text[self._at] == "[" else "}"
            self._at += 1
            yield from self._inside(path, closing)
        else:
            self._skip(_VALUE)

    def _inside(self, path: Path, closing: str) -> Iterator[tuple[Path, int]]:
        number = 0
        while not self._text.startswith(closing, self._skip(_BETWEEN)) and self._at < len(self._text):
            if closing == "}":
                yield from self._pair(path)
            else:
                yield (*path, number), self._line
                yield from self._value((*path, number))
                number += 1
        self._at += 1
