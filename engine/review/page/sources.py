"""The numbered list of sources at the end of a page: each is told once, and referred to by its number."""

from collections.abc import Iterable

from engine.source import Source


class SourceList:
    """Collects sources and gives each its number, from 1."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def refer(self, sources: Iterable[Source]) -> tuple[int, ...]:
        """Return the numbers of these sources; new ones are added to the list."""
        told = dict.fromkeys(str(source) for source in sources)
        return tuple(self._numbers.setdefault(text, len(self._numbers) + 1) for text in told)

    @property
    def told(self) -> tuple[str, ...]:
        """The sources in the order of their numbers."""
        return tuple(self._numbers)
