"""One block of a session log: how it is written, sealed with a digest, and read back."""

import math
import re
from collections.abc import Mapping
from functools import lru_cache
from hashlib import sha256

import tomli
import tomli_w

from engine.session.simple_lines import TEXT_KEY, Plain, cut_text, raw_text, simple_table

FORMAT = 2
MAX_KEY = 64
"""Longest key of a block [characters]; a project rule."""

FIRST_LINE = (
    b"# Tugtest session log: one [[event]] per entry, each sealed by its digest. "
    b"Open it in any editor to read; do not save it there.\n"
)
SESSION_LINE = b"[session]\n"
EVENT_LINE = b"[[event]]\n"
MORE_LINE = b"more = true\n"
SEAL_START = b'digest = "'
SEAL_BYTES = len(SEAL_START) + 64 + len(b'"\n\n')


class Unwritable(ValueError):
    """A value that a log cannot hold; the message names the key and what would be right."""


class Unreadable(ValueError):
    """A sealed block that is not in the form in which this program writes; the message says what is wrong."""


def encode_header(header: Mapping[str, Plain | tuple[str, ...]]) -> bytes:
    """Return the bytes of a log without events: first line, ``[session]``, seal, blank line.

    Args:
        header: Flat table; text of several lines is kept readable as such. ``format`` is added in front.

    Raises:
        Unwritable: if a key or value is not one that a log can hold.
    """
    _check(header, reserved=("digest", "format"))
    lines = "".join(_header_line(key, value) for key, value in header.items())
    body = FIRST_LINE + SESSION_LINE + f"format = {FORMAT}\n".encode() + _to_bytes(lines)
    return body + seal_line(sha256(body).hexdigest())


def encode_event(event: Mapping[str, Plain | tuple[str, ...]], head: str, *, more: bool = False) -> tuple[bytes, str]:
    """Return the bytes of one event block and its digest, which is the new head of the chain.

    Args:
        event: Flat table.
        head: Digest of the block before, or ``root`` of the header's bytes for the first event.
        more: True if the next block belongs to the same entry: they are recorded together or not at all.

    Raises:
        Unwritable: if a key or value is not one that a log can hold.

    Example:
        >>> block, digest = encode_event({"event": "note", "text": "lid on"}, "0" * 64)
        >>> print(block.decode().partition("digest")[0], end="")
        [[event]]
        event = "note"
        text = "lid on"
        >>> digest[:8]
        'e954d5dc'
    """
    _check(event, reserved=("digest", "more"))
    body = EVENT_LINE + _to_bytes(_escape_unseen(tomli_w.dumps(event))) + (MORE_LINE if more else b"")
    digest = seal(head, body)
    return body + seal_line(digest), digest


def seal(head: str, body: bytes) -> str:
    """Return the digest of a block: SHA-256 over the digest before it, as text, and the block's exact bytes."""
    digest = sha256(head.encode("ascii"))
    digest.update(body)
    return digest.hexdigest()


def seal_line(digest: str) -> bytes:
    """Return the line that ends a block, with the blank line after it."""
    return b'digest = "%b"\n\n' % digest.encode("ascii")


def root(header_bytes: bytes) -> str:
    """Return the head of a log without events: the SHA-256 of every byte before the first event."""
    return sha256(header_bytes).hexdigest()


def digest_of_header(header: Mapping[str, Plain | tuple[str, ...]]) -> str:
    """Return the head that a new log with this header starts from."""
    return root(encode_header(header))


def decode_header(body: bytes) -> dict[str, Plain]:
    """Return the header's table, ``format`` included, from its bytes up to the seal.

    Raises:
        Unreadable: if it is not in the form in which this program writes.
    """
    return _cut_header(body) or _whole_header(body)


def decode_event(body: bytes) -> dict[str, Plain]:
    """Return one event's table from the block's bytes up to the seal.

    Raises:
        Unreadable: if it is not in the form in which this program writes.
    """
    if not _EVENT.fullmatch(body):
        raise Unreadable("it holds lines of a form that this program does not write")
    event = simple_table(body[len(EVENT_LINE) :])
    if event is None:
        tables = _parse(body).get("event")
        event = _table(tables[0] if isinstance(tables, list) and len(tables) == 1 else None)
    event.pop("more", None)
    return _once_sealed(event)


def _whole_header(body: bytes) -> dict[str, Plain]:
    if not _HEADER.fullmatch(body):
        raise Unreadable("the header holds lines of a form that this program does not write")
    return _once_sealed(_table(_parse(body).get("session")))


def _cut_header(body: bytes) -> dict[str, Plain] | None:
    """Return a header whose procedure's text stands last, that text being read once for many logs; None if not so."""
    cut = cut_text(body)
    if cut is None or not _HEADER.fullmatch(cut[0]) or (text := raw_text(cut[1])) is None:
        return None
    header, key = _once_sealed(_table(_parse(cut[0]).get("session"))), TEXT_KEY.decode()
    return None if key in header else {**header, key: text}


def _once_sealed(table: dict[str, Plain]) -> dict[str, Plain]:
    """Refuse a block with a digest line of its own before the seal: no reader of TOML takes the key twice."""
    if "digest" in table:
        raise Unreadable('it has two lines named "digest"; this program writes one')
    return table


def begins_event(tail: bytes) -> bool:
    """Return True if the bytes are the beginning of an event block whose digest line is not complete."""
    if EVENT_LINE.startswith(tail):
        return True
    return _EVENT_BEGUN.fullmatch(tail) is not None and _SEALED.search(tail) is None


def _check(table: Mapping[str, Plain | tuple[str, ...]], reserved: tuple[str, ...]) -> None:
    for key, value in table.items():
        if not _is_key(key):
            raise Unwritable(f"key {key!r:.80} is not 1 to {MAX_KEY} letters, digits, _ or -")
        if key in reserved:
            raise Unwritable(f'key "{key}" is written by the journal itself')
        if not _fits(value):
            raise Unwritable(
                f'key "{key}" holds {value!r:.80}; a log holds text, finite numbers, yes/no, lists of text'
            )


@lru_cache(maxsize=1024)
def _is_key(key: object) -> bool:
    return isinstance(key, str) and _KEY_TEXT.fullmatch(key) is not None


def _fits(value: object) -> bool:
    if isinstance(value, (str, bool)):
        return True
    if isinstance(value, int):
        return -(2**63) <= value < 2**63
    if isinstance(value, float):
        return math.isfinite(value)
    return isinstance(value, (list, tuple)) and all(isinstance(item, str) for item in value)


def _to_bytes(text: str) -> bytes:
    try:
        return text.encode()
    except UnicodeEncodeError as error:
        character = ord(text[error.start])
        raise Unwritable(f"a text holds U+{character:04X}, half of a character, which no file can hold") from None


def _escape_unseen(toml: str) -> str:
    """Write what steers a terminal or hides in a line as an escape, so that reading the raw file is harmless."""
    return toml if toml.isascii() else _UNSEEN.sub(_escape, toml)


def _escape(match: re.Match[str]) -> str:
    code = ord(match[0])
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def _header_line(key: str, value: Plain | tuple[str, ...]) -> str:
    if not isinstance(value, str) or "\n" not in value or "\r" in value or _LIKE_OURS.search(value):
        return _escape_unseen(tomli_w.dumps({key: value}))
    if _AS_IT_STANDS.fullmatch(value) and not value.endswith("'"):
        return f"{key} = '''\n{value}'''\n"
    return _escape_unseen(tomli_w.dumps({key: value}, multiline_strings=True))


def _parse(body: bytes) -> dict[str, object]:
    try:
        return tomli.loads(body.decode())
    except (ValueError, RecursionError) as error:
        raise Unreadable(f"it is not readable: {str(error)[:120]}") from None


def _table(found: object) -> dict[str, Plain]:
    if not isinstance(found, dict) or not all(_fits(value) for value in found.values()):
        raise Unreadable("it holds a number that no log holds, such as 1e400")
    return found


_UNSEEN = re.compile(
    "[\x80-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f]"
)
_AS_IT_STANDS = re.compile(
    "(?:[^\x00-\x08\x0b-\x1f\x7f-\x9f'\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\U000e0000-\U000e007f\ud800-\udfff]|'(?!''))*+"
)
_LIKE_OURS = re.compile(r"^(?:digest = |\[\[event\]\])", re.MULTILINE)
_KEY_TEXT = re.compile(rf"[A-Za-z0-9_-]{{1,{MAX_KEY}}}")

_KEY = rb"[A-Za-z0-9_-]{1,%d}+" % MAX_KEY
_ESCAPED = rb'\\(?:[btnfr"\\]|u[0-9a-fA-F]{4}|U[0-9a-fA-F]{8})'
_TEXT = rb'"(?>[^"\\\x00-\x08\x0a-\x1f\x7f]++|%b)*+"' % _ESCAPED
_LINES = rb'"""\n(?>[^"\\\x00-\x08\x0b-\x1f\x7f]++|%b)*+"""' % _ESCAPED
_RAW_LINES = rb"'''\n(?>[^'\x00-\x08\x0b-\x1f\x7f]++|'(?!''))*+'''"
_NUMBER = rb"-?[0-9]{1,19}+(?:\.[0-9]{1,25}+)?(?:e[+-]?[0-9]{1,3}+)?"
_ITEMS = rb"(?>    %b,\n)++" % _TEXT
_VALUE = rb"%b|%b|true|false|\[\]|\[\n%b\]" % (_TEXT, _NUMBER, _ITEMS)
_ENTRY = rb"%b = (?:%b)\n" % (_KEY, _VALUE)

_EVENT = re.compile(rb"\[\[event\]\]\n(?>%b)*+" % _ENTRY)
_EVENT_BEGUN = re.compile(
    rb"\[\[event\]\]\n(?>%b)*+(?:%b = \[\n(?>%b)?+)?[^\x00-\x08\x0a-\x1f\x7f]*" % (_ENTRY, _KEY, _ITEMS)
)
_SEALED = re.compile(rb'\ndigest = "[0-9a-f]{64}"')
_HEADER = re.compile(
    rb"%b\[session\]\nformat = [1-9][0-9]{0,8}\n(?>%b = (?:%b|%b|%b)\n)*+"
    % (re.escape(FIRST_LINE), _KEY, _LINES, _RAW_LINES, _VALUE)
)
