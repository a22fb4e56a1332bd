"""What an editor does to a log without meaning to, undone to see whether every value is still as recorded."""

from collections.abc import Iterator

from engine.session.block import FIRST_LINE, SEAL_START, SESSION_LINE

TIDIED = "blank lines, spaces or comments were added"
_BOM = b"\xef\xbb\xbf"
_MAX_TIDIED = 4 * 1024 * 1024
"""Bytes of a log whose blank lines and comments are taken out at most; a project rule."""

_BLANKS = b" \t\r"


def undone(data: bytes) -> Iterator[tuple[str, bytes]]:
    """Yield what an editor may have done, in words, and the bytes without it; most likely first."""
    plain = data.removeprefix(_BOM)
    if plain is not data and len(plain) < len(data):
        yield "a byte order mark was put in front", plain
    if b"\r\n" in plain:
        plain = plain.replace(b"\r\n", b"\n")
        yield "the line ends were changed to CRLF", plain
    tidied = _tidy(plain) if len(plain) <= _MAX_TIDIED else data
    if tidied != data:
        yield TIDIED, tidied
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", errors="replace").replace("\r\n", "\n")
        yield "it was saved as UTF-16", text.encode(errors="replace")


def _tidy(data: bytes) -> bytes:
    lead, session, rest = data.partition(SESSION_LINE)
    if FIRST_LINE in lead and all(_says_nothing(line) for line in lead.split(b"\n")):
        lead = FIRST_LINE
    header, seal_start, events = rest.partition(b"\n" + SEAL_START)
    return lead + session + header + b"\n" + _tidy_lines(SEAL_START + events) if seal_start else data


def _tidy_lines(data: bytes) -> bytes:
    lines = (line.rstrip(_BLANKS) for line in data.split(b"\n"))
    kept = (line for line in lines if not _says_nothing(line))
    return b"".join(line + (b"\n\n" if line.startswith(SEAL_START) else b"\n") for line in kept)


def _says_nothing(line: bytes) -> bool:
    bare = line.strip(_BLANKS)
    return not bare or bare.startswith(b"#")
