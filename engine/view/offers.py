"""Words that an entry offers, filled from what was given: Enter alone takes them."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from engine.procedure.model import Entry, Procedure
from engine.procedure.offer import DAY, filled, gaps
from engine.session.answer import MOST_TYPED
from engine.session.said import shown
from engine.session.state import State
from engine.view.models import EntryRow


def with_offers(procedure: Procedure, state: State, rows: Iterable[EntryRow], now: datetime) -> tuple[EntryRow, ...]:
    """Return rows, each that is open with the words that its entry offers at ``now`` (aware), if it offers some."""
    return tuple(_offering(row, offered(procedure, state, procedure.entry_by_id[row.id], now)) for row in rows)


def offered(procedure: Procedure, state: State, entry: Entry, now: datetime) -> str:
    """Return the words that an entry offers, empty if none; the day is this machine's at ``now`` (aware)."""
    if not entry.offers:
        return ""
    day = now.astimezone()
    words = {DAY: f"{day.day} {day:%B %Y}"}
    for name in gaps(entry.offers):
        given, asked = state.given.get(name), procedure.entry_by_id.get(name)
        if given is not None and asked is not None:
            words[name] = shown(asked, given.taken, both=False)
    return filled(entry.offers, words, MOST_TYPED)


def _offering(row: EntryRow, offer: str) -> EntryRow:
    if not offer or row.state != "open":
        return row
    return replace(row, offer=offer, hint=f"Enter alone takes: {offer}")
