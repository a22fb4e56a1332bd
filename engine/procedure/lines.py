"""On which line of a TOML text each table and key stands, found by walking its headers and keys."""

import re
from collections.abc import Iterator
from functools import cached_property

Path = tuple[str | int, ...]

_PART = re.compile(r"""[ \t]*(?:"((?:[^"\\]|\\.)*)"|'([^']*)'|([A-Za-z0-9_-]+))[ \t]*""")
_SKIP = re.compile(r'[^"\'#\[\]{}\n]+')
_STRINGS = (
    re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}', re.DOTALL),
    re.compile(r"'''.*?'{3,5}", re.DOTALL),
    re.compile(r'"(?:[^"\\\n]|\\.)*"'),
    re.compile(r"'[^'\n]*'"),
)
_COMMENT = re.compile(r"#[^\n]*")


class LineIndex:
    """The line, from 1, of each table and key of a TOML text that has been read before; made when first asked.

    Example:
        >>> index = LineIndex('id = "a"\\n[[step]]\\nid = "b"\\n')
        >>> index.line(("step", 0, "id")), index.line(("step", 0, "nothing"))
        (3, 2)
    """

    def __init__(self, text: str) -> None:
        self._text = text

    @cached_property
    def by_path(self) -> dict[Path, int]:
        """Every header and key with its line."""
        return dict(_walk(self._text))

    def line(self, path: Path) -> int:
        """Return the line of the path, or of the nearest table around it; 0 for the whole file."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.by_path:
                return self.by_path[path[:end]]
        return 0


def _walk(text: str) -> Iterator[tuple[Path, int]]:
    table: Path = ()
    counts: dict[Path, int] = {}
    place, line = 0, 1
    while place < len(text):
        start = place
        place = _indented(text, place)
        if text.startswith("[", place):
            table, place = _header(text, place, counts)
            yield table, line
        elif text[place : place + 1] not in ("", "#", "\n"):
            keys, place = _keys(text, place)
            yield (*table, *keys), line
        place = _after_line(text, place)
        line += text.count("\n", start, place)


def _indented(text: str, place: int) -> int:
    while place < len(text) and text[place] in " \t\r":
        place += 1
    return place


def _header(text: str, place: int, counts: dict[Path, int]) -> tuple[Path, int]:
    listed = text.startswith("[[", place)
    names, end = _keys(text, place + (2 if listed else 1))
    path: Path = ()
    for name in names[:-1]:
        path = _last_of((*path, name), counts)
    path = (*path, names[-1])
    if not listed:
        return _last_of(path, counts), end
    counts[path] = counts.get(path, -1) + 1
    return (*path, counts[path]), end + 2


def _last_of(path: Path, counts: dict[Path, int]) -> Path:
    return (*path, counts[path]) if path in counts else path


def _keys(text: str, place: int) -> tuple[tuple[str, ...], int]:
    names: list[str] = []
    while match := _PART.match(text, place):
        names.append(next(part for part in match.groups() if part is not None))
        place = match.end()
        if text[place : place + 1] != ".":
            break
        place += 1
    return tuple(names) or ("?",), max(place, 1)


def _after_line(text: str, place: int) -> int:
    """Return where the next line begins that is not inside a string or a list."""
    depth = 0
    while place < len(text):
        sign = text[place]
        place = _past(text, place)
        depth += (sign in "[{") - (sign in "]}")
        if sign == "\n" and depth <= 0:
            break
    return place


def _past(text: str, place: int) -> int:
    for form in (_SKIP, *_STRINGS, _COMMENT):
        if match := form.match(text, place):
            return match.end()
    return place + 1
