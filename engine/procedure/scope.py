"""What the values of a procedure file are made with: the names that it may use, its sources, and where faults go."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.procedure.faults import Faults
from engine.source import Source


@dataclass(frozen=True, slots=True)
class Scope:
    """Every fact and reading by id: its unit as the entry says, and its choices if it has some; the named sources.

    ``unread`` are the entries whose rows do not tell what they ask: what names one of them is not judged too.
    """

    units: Mapping[str, str]
    choices: Mapping[str, tuple[str, ...]]
    unread: frozenset[str]
    sources: Mapping[str, Source]
    faults: Faults
