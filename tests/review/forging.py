"""Logs forged for the tests: a shipped log with its events changed, and its chain built anew over them."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from engine.session.block import encode_event, encode_header, root
from engine.session.scan import scan, short_head
from tests.review.sober import sober

CLEAN = sober("grey-heron-clean")
"""The log of a sober person, with nothing to look at."""

MENDED = "marsh-tern-mended"
"""A sample with corrections and a break; its log is made by the fixture ``sample``, or by ``sober``."""

Flat = dict

_CLEAN = scan(CLEAN.read_bytes())
EVENTS = len(_CLEAN.events)
"""Events of the clean sample."""

HEAD = short_head(_CLEAN.head)
"""Head of the clean sample, short."""

GIVEN = len({event["entry"] for event in _CLEAN.events if event["event"] == "reading"})
"""Values that the clean sample gives."""

REVISION = str((_CLEAN.header or {})["procedure_revision"])
"""Revision of its procedure."""


ON_TASK_S = (
    datetime.fromisoformat(str(_CLEAN.events[-1]["at"])) - datetime.fromisoformat(str(_CLEAN.events[0]["at"]))
).total_seconds()
"""Time from its first to its last entry [s]; it has no break."""


def number_of(**wanted: object) -> int:
    """Return the number of the first event of the clean sample with these values."""
    return int(str(next(e["n"] for e in _CLEAN.events if all(e.get(k) == v for k, v in wanted.items()))))


ALTERED = CLEAN.with_name("grey-heron-altered.toml")
"""The clean log with one reading changed afterwards, as by hand."""

ALTERED.write_bytes(CLEAN.read_bytes().replace(b'raw = "24.36"', b'raw = "24.06"'))

ALTERED_AT = number_of(event="reading", raw="24.36")
"""The event that is altered in the altered sample."""
Change = Callable[[list[Flat]], list[Flat] | None]


def rebuilt(change: Change, source: Path = CLEAN, header: Flat | None = None, *, renumber: bool = True) -> bytes:
    """Return the bytes of ``source`` with its events changed and every digest made anew, as a forger would."""
    found = scan(source.read_bytes())
    assert found.header is not None
    events = [dict(event) for event in found.events]
    events = change(events) or events
    head_table = {k: v for k, v in ({**found.header, **(header or {})}).items() if k not in ("format", "digest")}
    data = encode_header(head_table)
    head, parts = root(data), [data]
    for n, event in enumerate(events, start=1):
        more = event.pop("more", False)
        event.pop("digest", None)
        if renumber:
            event["n"] = n
        block, head = encode_event(event, head, more=bool(more))
        parts.append(block)
    return b"".join(parts)


def unchanged(events: list[Flat]) -> None:
    """Change nothing."""


def first(events: list[Flat], **wanted: object) -> Flat:
    """Return the first event with these values."""
    return next(e for e in events if all(e.get(k) == v for k, v in wanted.items()))


def setting(changes: Flat, **wanted: object) -> Change:
    """Return a change of one event's values."""

    def change(events: list[Flat]) -> None:
        first(events, **wanted).update(changes)

    return change


def without(**wanted: object) -> Change:
    """Return a change that takes all such events out."""
    return lambda events: [e for e in events if not all(e.get(k) == v for k, v in wanted.items())]
