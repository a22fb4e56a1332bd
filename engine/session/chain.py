"""The chain of digests, followed over the bytes of a log before anything in it is parsed."""

import re
from dataclasses import dataclass, field
from hashlib import sha256

from engine.session.block import (
    EVENT_LINE,
    FIRST_LINE,
    MORE_LINE,
    SEAL_BYTES,
    SEAL_START,
    SESSION_LINE,
    begins_event,
    root,
    seal,
    seal_line,
)

LINE_ENDS = b"\n\n"


@dataclass(slots=True)
class Chain:
    """How far the digests hold.

    ``heads`` and ``ends`` have one entry for the header and one for each event that holds: its digest (for the
    header: the root), and the byte where its block ends. ``fault`` is empty, ``torn``, ``altered`` or ``not a log``.
    ``lacks`` are the line ends missing after a last block that holds otherwise.
    """

    heads: list[str] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    fault: str = ""
    lacks: bytes = b""

    @property
    def good_bytes(self) -> int:
        """The bytes from the start of the file that hold."""
        return self.ends[-1] if self.ends else 0


def follow(data: bytes) -> Chain:
    """Return how far the chain of digests holds over these bytes."""
    chain = Chain()
    _follow_header(data, chain)
    if chain.heads and not chain.fault:
        _follow_events(data, chain)
    return chain


def written_after(data: bytes, chain: Chain) -> int | None:
    """Return after which event of this file the first block that does not hold was written; None if after none of it.

    Blocks that were swapped, repeated or moved are found so; their number is 0 for the header.
    """
    start = chain.good_bytes
    end = data.find(LINE_ENDS, start) + len(LINE_ENDS)
    body, stated = data[start : end - SEAL_BYTES], data[end - SEAL_BYTES : end]
    heads = chain.heads + [match[1].decode() for match in _STATED.finditer(data, start)]
    if end < start + SEAL_BYTES or len(body) * len(heads) > _MAX_HASHED:
        return None
    return next((number for number, head in enumerate(heads) if seal_line(seal(head, body)) == stated), None)


def _follow_header(data: bytes, chain: Chain) -> None:
    at = data.find(b"\n" + SEAL_START) + 1
    if not at:
        chain.fault = "torn" if _begins_header(data) else _not_whole(data)
        return
    so_far = sha256(memoryview(data)[:at])
    expected = seal_line(so_far.hexdigest())
    rest = data[at : at + SEAL_BYTES]
    if rest == expected:
        so_far.update(rest)  # the root: every byte before the first event
        chain.heads.append(so_far.hexdigest())
        chain.ends.append(at + SEAL_BYTES)
        return
    rest = rest.rstrip(b"\0")
    cut_short = not data[at + len(rest) :].strip(b"\0") and expected.startswith(rest)
    chain.fault = "torn" if cut_short else _not_whole(data)
    if cut_short and len(rest) >= SEAL_BYTES - len(LINE_ENDS):
        chain.lacks = expected[len(rest) :]
        chain.heads.append(root(data[:at] + expected))
        chain.ends.append(at + len(rest))


def _follow_events(data: bytes, chain: Chain) -> None:
    head, at = chain.heads[-1], chain.ends[-1]
    entry_ends = 1
    while at < len(data):
        end = data.find(LINE_ENDS, at) + len(LINE_ENDS)
        if end < len(LINE_ENDS):
            entry_ends = _follow_tail(data[at:], chain, entry_ends)
            break
        body = data[at : end - SEAL_BYTES]
        head = seal(head, body)
        if data[end - SEAL_BYTES : end] != seal_line(head):
            chain.fault = "altered"
            return
        chain.heads.append(head)
        chain.ends.append(end)
        at = end
        if not body.endswith(b"\n" + MORE_LINE):
            entry_ends = len(chain.ends)
    if chain.fault != "altered" and entry_ends < len(chain.ends):
        _drop_half_entry(chain, entry_ends)


def _follow_tail(tail: bytes, chain: Chain, entry_ends: int) -> int:
    """Judge what follows the last blank line; return how many blocks stand up to the last entry's end."""
    written = tail.rstrip(b"\0")
    core = written.removesuffix(b"\n")
    body = core[: len(LINE_ENDS) - SEAL_BYTES]
    expected = seal(chain.heads[-1], body)
    if body and core == body + seal_line(expected).removesuffix(LINE_ENDS):
        chain.fault = "torn"
        chain.lacks = LINE_ENDS[len(written) - len(core) :]
        chain.heads.append(expected)
        chain.ends.append(chain.ends[-1] + len(written))
        return entry_ends if body.endswith(b"\n" + MORE_LINE) else len(chain.ends)
    chain.fault = "torn" if begins_event(written) else "altered"
    return entry_ends


def _drop_half_entry(chain: Chain, entry_ends: int) -> None:
    """An entry of several blocks counts from its last block on: before that it was never recorded."""
    chain.fault, chain.lacks = "torn", b""
    del chain.heads[entry_ends:]
    del chain.ends[entry_ends:]


def _begins_header(data: bytes) -> bool:
    written = data.rstrip(b"\0")
    start = FIRST_LINE + SESSION_LINE
    return start.startswith(written) or (written.startswith(start) and b"\n\n" + EVENT_LINE not in written)


_STATED = re.compile(rb'\ndigest = "([0-9a-f]{64})"\n')
_HEADER_BEGUN = re.compile(rb"\[session\]\r?\nformat = ")
_LOOK_AT = 4 * len(FIRST_LINE)
"""Bytes at the beginning in which a damaged log is still known as one; a project rule."""

_MAX_HASHED = 64 * 1024 * 1024
"""Bytes that are hashed at most to find where a block was written; a project rule, under a second."""


def _not_whole(data: bytes) -> str:
    looks_like_one = b"Tugtest session log" in data[:_LOOK_AT] or _HEADER_BEGUN.search(data, 0, _LOOK_AT)
    return "altered" if looks_like_one else "not a log"
