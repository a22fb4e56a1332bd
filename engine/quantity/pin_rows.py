"""A pin map that was understood: what each position of a connector reaches, and how its positions are named."""

from collections.abc import Sequence
from dataclasses import dataclass

PIN_MAP = "pin map"
"""The unit of an entry that asks for a pin map."""

MOST_ROWS = 16
"""Positions at this end at most (project rule: a 13-pin trailer connector is the largest printed one here)."""

MOST_FAR = 64
"""Far ends at most (project rule: a large engine plug has about 60 cavities)."""

LONGEST_MAP = 200
"""Characters of a pin map at most (project rule: 16 rows as ``16-16=0.45`` take 175, and two more pairs 22)."""

LONGEST_KEPT = 2000
"""Characters of a map as it is kept at most (project rule: 50 pairs in 200 typed characters, each name written out)."""

NOTHING = "OL"
"""What a position reaches that reaches nothing."""

NOT_NAMES = ("ol", "0l", "open")
"""What may be typed for nothing, in small letters: no position is called so."""

NAME = r"[A-Za-z0-9]{1,8}"
"""How a position is named: as short as the number printed on it, or a short word for what it does."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A position at this end and one at the far end that are joined, with the ohms between them if they were typed."""

    near: str
    far: str
    ohm: float | None = None

    @property
    def text(self) -> str:
        """The pair as it is kept: ``2-5``, ``2-5=300``."""
        return f"{self.near}-{self.far}" + ("" if self.ohm is None else f"={self.ohm_text}")

    @property
    def ohm_text(self) -> str:
        """Its ohms written out, empty if none were typed."""
        return "" if self.ohm is None else f"{self.ohm:.6f}".rstrip("0").rstrip(".")


@dataclass(frozen=True, slots=True)
class PinRows:
    """A pin map that was understood: the positions at this end in order, and every pair that is joined."""

    raw: str
    near: tuple[str, ...]
    pairs: tuple[Pair, ...]

    def of(self, near: str) -> tuple[Pair, ...]:
        """Return what one position reaches."""
        return tuple(pair for pair in self.pairs if pair.near == near)

    @property
    def label(self) -> str:
        """The one spelling in which the map is kept: a row for each position, in order."""
        return " ".join(text for near in self.near for text in self._row(near))

    def _row(self, near: str) -> list[str]:
        return [pair.text for pair in self.of(near)] or [f"{near}-{NOTHING}"]


def listed(names: Sequence[str]) -> str:
    """Return positions as people say them: numbers in a row by their ends.

    Example:
        >>> listed(["1", "2", "3", "4"]), listed(["pin", "block"])
        ('1 to 4', 'pin, block')
    """
    parts: list[list[str]] = []
    for name in names:
        follows = parts and name.isdigit() and parts[-1][-1].isdigit() and int(name) == int(parts[-1][-1]) + 1
        parts = [*parts[:-1], [*parts[-1], name]] if follows else [*parts, [name]]
    return ", ".join(f"{part[0]} to {part[-1]}" if len(part) > 2 else ", ".join(part) for part in parts)
