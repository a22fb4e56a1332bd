"""Writes the tables of a procedure as the text of a file: one row a line, keys in the order in which they came."""

import json
import re
from collections.abc import Iterator, Mapping
from textwrap import wrap

from engine.procedure.forms import is_table

LONGEST = 200
"""Characters of a line, where it can be broken."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BY_HEADER = {"section", "step"}
"""Lists whose tables stand under a header each."""
_OF_HEAD = {"circuit", "source", "zone", "piece", "parameters"}
"""Tables of the head whose rows stand under one header."""


def written(raw: Mapping[str, object]) -> str:
    """Return the text of a procedure or a block, the same for the same tables; it reads back as it was.

    Example:
        >>> print(written({"id": "a", "section": [{"id": "b", "step": [{"read": {"gap": {"mm": [1, 2]}}}]}]}))
        id = "a"
        <BLANKLINE>
        [[section]]
        id = "b"
        <BLANKLINE>
        [[section.step]]
        read.gap = { mm = [1, 2] }
        <BLANKLINE>
    """
    return "\n".join(_table(raw, "")).lstrip("\n") + "\n"


def _table(raw: Mapping[str, object], name: str) -> Iterator[str]:
    """Give the lines of what stands under one header: its own keys, then the tables inside."""
    inner = [key for key, value in raw.items() if _has_header(key, value, name)]
    for key, value in raw.items():
        if key not in inner:
            yield from _key(key, value)
    for key in inner:
        value, header = raw[key], ".".join(filter(None, (name, _named(key))))
        for one in value if isinstance(value, list) else [value]:
            listed = isinstance(value, list)
            yield from ("", f"[[{header}]]" if listed else f"[{header}]")
            yield from (_table(one, header) if listed else _rows(one, "")) if is_table(one) else ()


def _has_header(key: str, value: object, around: str) -> bool:
    if key in _BY_HEADER:
        return isinstance(value, list) and bool(value) and all(map(is_table, value))
    return key in _OF_HEAD and not around and is_table(value)


def _rows(raw: Mapping[str, object], before: str) -> Iterator[str]:
    for key, value in raw.items():
        yield from _key(key, value, before)


def _key(key: str, value: object, before: str = "") -> Iterator[str]:
    """Give one key: in one line if it fits; else each of its keys, each value of a list, or a text, takes lines."""
    name = before + _named(key)
    line = f"{name} = {_value(value)}"
    if is_table(value) and value and all(map(is_table, value.values())):
        yield from _rows(value, f"{name}.")
    elif len(line) <= LONGEST:
        yield line
    elif is_table(value):
        yield from _rows(value, f"{name}.")
    elif isinstance(value, list):
        yield from (f"{name} = [", *_packed([f"{_value(item)}," for item in value]), "]")
    elif isinstance(value, str):
        yield from _text(name, value)
    else:
        yield line


def _text(name: str, text: str) -> Iterator[str]:
    """Give a long text in several lines, with a backslash where a line goes on; whole if its blanks forbid that."""
    broken = [wrap(line, LONGEST - 2, break_long_words=False, break_on_hyphens=False) for line in text.split("\n")]
    if "\n".join(map(" ".join, broken)) != text:
        yield f"{name} = {_quoted(text)}"
        return
    yield f'{name} = """\\'
    *lines, last = [
        _escaped(line)[1:-1] + (" \\" if number < len(lines) else "")
        for lines in broken
        for number, line in enumerate(lines, 1)
    ]
    yield from lines
    yield f'{last}"""'


def _packed(items: list[str]) -> Iterator[str]:
    """Give the values of a list, as many a line as fit; tables each on their own."""
    line = " "
    for item in items:
        if line != " " and (item.startswith("{") or len(f"{line} {item}") > LONGEST):
            yield line
            line = " "
        line = f"{line} {item}"
    yield line


def _value(value: object) -> str:
    if is_table(value):
        inside = ", ".join(f"{_named(key)} = {_value(item)}" for key, item in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, bool | int | float):
        return str(value).lower()
    return _quoted(str(value))


def _quoted(text: str) -> str:
    literal = '"' in text and "'" not in text and text.isprintable()
    return f"'{text}'" if literal else _escaped(text)


def _escaped(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _named(key: str) -> str:
    return key if _BARE.fullmatch(key) else _escaped(key)
