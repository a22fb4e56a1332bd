"""Bytes of a log -> its header and events, and one verdict on whether they are as they were written."""

import errno
import os
import re
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from engine.session.block import FORMAT, Unreadable, decode_event, decode_header
from engine.session.chain import Chain, follow, written_after
from engine.session.disk_any import demand_plain
from engine.session.edited import TIDIED, undone
from engine.session.simple_lines import Plain

State = Literal["whole", "torn", "altered", "newer", "edited", "not a log"]

MAX_BYTES = 64 * 1024 * 1024
"""The largest log that is read or written [bytes]; a project rule, about 100,000 times a day's job."""


@dataclass(frozen=True, slots=True)
class Scan:
    """A log as found.

    ``events`` are those that the chain vouches for. ``at`` and ``byte`` say where the first fault is: the number of
    the event (0 for the header) and the byte where its block starts. ``heads`` has the head before the first event
    and after each one; ``head`` is the last of them. ``good_bytes`` is what may be kept, ``lacks`` the line ends
    missing after it. ``sentence`` reads on from the file's name: ``boat.toml: whole, 12 events``.
    """

    header: dict[str, Plain] | None
    events: list[dict[str, Plain]]
    state: State
    at: int | None
    byte: int | None
    sentence: str
    head: str
    good_bytes: int
    lacks: bytes = b""
    heads: list[str] = field(default_factory=list)


def scan(data: bytes) -> Scan:
    """Return what the bytes of a log hold. Never raises: whatever is wrong is in the result.

    Args:
        data: All bytes of the file.

    Returns:
        The events that hold, and the verdict with a sentence.

    Source:
        The form of the log and its chain of digests are this project's own.

    Example:
        >>> scan(b"hello").state
        'not a log'
    """
    if len(data) > MAX_BYTES:
        return not_a_log(_TOO_LARGE)
    chain = follow(data)
    if chain.fault in ("altered", "not a log"):
        touched = _scan_edited(data)
        if touched:
            return touched
    if chain.fault == "not a log":
        return not_a_log("not a session log: it does not begin as one")
    return _read(data, chain)


def read_log(path: Path) -> Scan:
    """Return what a log file holds, opened for reading only. Never raises: a file that cannot be read says so.

    A link is followed only to a plain file; folders, pipes and devices are not opened.
    """
    try:
        data = read_plain_file(path)
    except OSError as error:
        return not_a_log(f"it cannot be read: {says(error)}")
    except ValueError:
        return not_a_log("it cannot be read: no file has such a name")
    return scan(data)


def read_plain_file(path: Path) -> bytes:
    """Return the bytes of a plain file.

    Raises:
        OSError: if it is not a plain file, is too large, or cannot be read.
    """
    demand_plain(path.stat())
    handle = os.open(path, _READ_ONLY)
    try:
        status = os.fstat(handle)
        demand_plain(status)
        if status.st_size > MAX_BYTES:
            raise OSError(errno.EFBIG, _TOO_LARGE)
        return _read_all(handle, status.st_size)
    finally:
        os.close(handle)


def _read_all(handle: int, size: int) -> bytes:
    """Return what a file holds up to a byte more than the largest log; it may have grown since its size was asked."""
    parts, wanted = [os.read(handle, size + 1)], MAX_BYTES + 1
    while parts[-1] and sum(map(len, parts)) not in (size, wanted):
        parts.append(os.read(handle, wanted - sum(map(len, parts))))
    return b"".join(parts)


def says(error: OSError) -> str:
    """Return the reason that the system gave, in words, without number and path."""
    reason = error.strerror or str(error) or type(error).__name__
    return reason[:1].lower() + reason[1:]


def short_head(head: str) -> str:
    """Return a head short enough to write on paper: its first 16 digits, in four groups.

    Example:
        >>> short_head("4bda2926" * 8)
        '4bda-2926-4bda-2926'
    """
    return "-".join(head[at : at + 4] for at in range(0, 16, 4))


def not_a_log(sentence: str) -> Scan:
    """Return the result for a file that holds no log, with the reason."""
    return Scan(None, [], "not a log", None, None, sentence, "", 0)


def _scan_edited(data: bytes) -> Scan | None:
    """Judge the log without an editor's touch: edited, if it is whole so; altered, if only so its header holds."""
    altered: Scan | None = None
    for what, plain in undone(data):
        found = _read(plain, follow(plain))
        if found.state == "whole" or (found.state == "torn" and found.lacks):
            sentence = f"touched by an editor: {what}; no value was changed; it can be read, and takes no more entries"
            return replace(found, state="edited", at=None, byte=None, sentence=sentence, good_bytes=0, lacks=b"")
        if not altered and what != TIDIED and found.state == "altered" and found.heads:
            altered = replace(found, byte=None, sentence=f"{found.sentence}; besides, {what}", good_bytes=0)
    return altered


def _read(data: bytes, chain: Chain) -> Scan:
    """Parse what the chain vouches for."""
    if not chain.ends:
        sentence = "altered: the header is not as it was written" if chain.fault == "altered" else _NOTHING
        return Scan(None, [], "altered" if chain.fault == "altered" else "torn", 0, 0, sentence, "", 0)
    newer = _newer(data)
    try:
        header = decode_header(_unsealed(data, 0, chain.ends[0]))
    except Unreadable as error:
        return _unreadable(None, [], 0, error, chain, newer)
    events: list[dict[str, Plain]] = []
    for number in range(1, len(chain.ends)):
        try:
            events.append(decode_event(_unsealed(data, chain.ends[number - 1], chain.ends[number])))
        except Unreadable as error:
            return _unreadable(header, events, number, error, chain, newer)
    if newer:
        return Scan(header, events, "newer", None, None, newer, chain.heads[-1], 0, b"", chain.heads)
    return _verdict(header, events, chain, data)


def _unsealed(data: bytes, start: int, end: int) -> bytes:
    return data[start : data.rfind(b'digest = "', start, end)]


def _newer(data: bytes) -> str:
    match = _FORMAT.search(data[:400])
    if not match or int(match[1]) <= FORMAT:
        return ""
    return f"written by a newer version, in format {int(match[1])}; this one reads format {FORMAT}; it is only read"


def _unreadable(
    header: dict[str, Plain] | None,
    events: list[dict[str, Plain]],
    number: int,
    error: Unreadable,
    chain: Chain,
    newer: str,
) -> Scan:
    heads = chain.heads[: number or 1]
    if newer:
        return Scan(header, events, "newer", number, None, newer, heads[-1], 0, b"", heads)
    byte = chain.ends[number - 1] if number else 0
    where = f"event {number}, at byte {byte}," if number else "the header"
    sentence = f"altered: {where} was not written by this program: {error}"
    return Scan(header, events, "altered", number, byte, sentence, heads[-1], byte, b"", heads)


def _verdict(header: dict[str, Plain], events: list[dict[str, Plain]], chain: Chain, data: bytes) -> Scan:
    count, good, head = len(events), chain.good_bytes, chain.heads[-1]
    if not chain.fault:
        return Scan(header, events, "whole", None, None, f"whole, {_events(count)}", head, good, b"", chain.heads)
    if chain.fault == "altered":
        sentence = (
            f"altered: event {count + 1}, at byte {good}, {_altered(data, chain)}; {_events(count)} before it hold"
        )
        return Scan(header, events, "altered", count + 1, good, sentence, head, good, b"", chain.heads)
    if len(data) > good:
        sentence = (
            f"cut short after {_events(count)}: the {len(data) - good} bytes that follow were never recorded as a whole"
        )
    else:
        sentence = f"{_events(count)}, whole but for the last line end"
    return Scan(header, events, "torn", count + 1, good, sentence, head, good, chain.lacks, chain.heads)


def _altered(data: bytes, chain: Chain) -> str:
    place = written_after(data, chain)
    if place is None:
        return "is not as it was written, or something before it was taken out"
    return f"stands in the wrong place: it was written after {f'event {place}' if place else 'the header'}"


def _events(count: int) -> str:
    return "1 event" if count == 1 else f"{count} events"


_READ_ONLY = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_TOO_LARGE = f"it is larger than {MAX_BYTES // 1024 // 1024} MB, which no session log is"
NOTHING_YET = "nothing had been recorded in it yet"
_NOTHING = f"cut short in its header: {NOTHING_YET}"
_FORMAT = re.compile(rb"\n\[session\]\nformat = ([0-9]{1,9})\n")
