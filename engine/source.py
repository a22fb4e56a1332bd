"""Where a number comes from: its authority, its document and place, and how it was seen."""

from dataclasses import dataclass
from enum import StrEnum


class Authority(StrEnum):
    """Who says so. The order is from the strongest to the weakest."""

    REGULATION = "regulation"
    STANDARD = "standard"
    HANDBOOK = "handbook"
    PRACTICE = "practice"
    PROJECT = "project rule"


class Seen(StrEnum):
    """How the figure reached us."""

    READ = "read"
    QUOTED = "quoted"
    MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class Source:
    """One source of a figure. ``place`` is the clause, table or page, and may be empty."""

    authority: Authority
    document: str
    place: str = ""
    seen: Seen = Seen.READ

    def __str__(self) -> str:
        """Return it as people read it: ``33 CFR 183.425, table 5 (regulation, read)``."""
        where = f"{self.document}, {self.place}" if self.place else self.document
        return f"{where} ({self.authority}, {'unconfirmed: from memory' if self.seen is Seen.MEMORY else self.seen})"

    @property
    def unconfirmed(self) -> bool:
        """True if the figure is from memory: no firm hold may rest on it."""
        return self.seen is Seen.MEMORY
