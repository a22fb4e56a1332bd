"""Reads the simple lines that most blocks of a log are made of, as the TOML reader would, at a fraction of its cost.

A block comes here only after it was held against the form in which this program writes. What is not simple (an escaped
character, a number that TOML might refuse, a key twice) is left to the TOML reader.
"""

import math
import re
from collections.abc import Iterator
from functools import lru_cache

Plain = str | int | float | bool | list[str]
"""What a key of a block may hold. A tuple of strings is taken as a list."""

TEXT_KEY = b"procedure_text"
"""The key of the header under which the whole text of the procedure stands."""

_OPENS = b"\n" + TEXT_KEY + b" = '''\n"
_CLOSES = b"'''\n"


def simple_table(body: bytes) -> dict[str, Plain] | None:
    """Return the table of lines such as ``step = "dry-fit"``; None if the TOML reader must look at them.

    Args:
        body: An event's lines without their heading, in the form in which this program writes.

    Example:
        >>> simple_table(b'event = "note"\\nn = 3\\nmore = true\\nended = [\\n    "one",\\n]\\n')
        {'event': 'note', 'n': 3, 'more': True, 'ended': ['one']}
        >>> simple_table(b'text = "a \\\\"quoted\\\\" word"\\n') is None
        True
    """
    if b"\\" in body:
        return None
    try:
        lines = body.decode().split("\n")
    except UnicodeDecodeError:
        return None
    lines.pop()
    return _table(lines)


def cut_text(header: bytes) -> tuple[bytes, bytes] | None:
    """Return a header without the procedure's text, and that text as it stands; None if it does not stand last.

    Logs of one procedure all hold the same long text: cut out, it is read once.
    """
    start = header.find(_OPENS)
    if start < 0 or not header.endswith(_CLOSES):
        return None
    return header[: start + 1], header[start + len(_OPENS) : -len(_CLOSES)]


@lru_cache(maxsize=16)
def raw_text(raw: bytes) -> str | None:
    """Return the text between three apostrophes; None if the TOML reader must look at it."""
    if b"'''" in raw or raw.endswith(b"'") or not _RAW.fullmatch(raw):
        return None
    try:
        return raw.decode()
    except UnicodeDecodeError:
        return None


def _table(lines: list[str]) -> dict[str, Plain] | None:
    table: dict[str, Plain] = {}
    count, rest = 0, iter(lines)
    for line in rest:
        key, _, said = line.partition(" = ")
        count += 1
        first = said[0]
        if first == '"':
            table[key] = said[1:-1]
        elif said == "true" or said == "false":
            table[key] = said == "true"
        elif first == "[":
            table[key] = [] if said == "[]" else _items(rest)
        elif (number := _number(said)) is None:
            return None
        else:
            table[key] = number
    return table if len(table) == count else None


def _items(lines: Iterator[str]) -> list[str]:
    items = list[str]()
    for line in lines:
        if line == "]":
            break
        items.append(line[5:-2])
    return items


@lru_cache(maxsize=4096)
def _number(said: str) -> int | float | None:
    if not _NUMBER.fullmatch(said):
        return None
    if "." not in said and "e" not in said:
        whole = int(said)
        return whole if -(2**63) <= whole < 2**63 else None
    number = float(said)
    return number if math.isfinite(number) else None


_RAW = re.compile(rb"[^\x00-\x08\x0b-\x1f\x7f]*+")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,18}+)(?:\.[0-9]++)?(?:e[+-]?[0-9]++)?")
