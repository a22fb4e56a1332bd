"""A rule profile: the named, versioned set of rules chosen for a session."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.source import Source


@dataclass(frozen=True, slots=True)
class Profile:
    """One profile. ``settings`` are its figures by name (units in the names), ``sources`` the source of each."""

    name: str
    version: str
    title: str
    settings: Mapping[str, float | bool | str]
    sources: Mapping[str, Source]
