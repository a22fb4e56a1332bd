"""Arithmetic and comparison over named values, as a small tree: parsed once, unit-checked, evaluated on floats."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Value


@dataclass(frozen=True, slots=True)
class Expression:
    """A parsed limit or condition. ``text`` is as written, ``names`` the entries it uses."""

    text: str
    names: frozenset[str]

    def holds(self, values: Mapping[str, Value]) -> bool | None:
        """Return whether it holds, or None if a value that it needs is not there."""
        raise NotImplementedError

    def says(self, values: Mapping[str, Value]) -> str:
        """Return it as a sentence for people: ``at least 11.0 mm: barrel depth 12.0 mm less 1 mm``."""
        raise NotImplementedError
