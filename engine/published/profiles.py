"""The rule profiles: which set of rules a session is judged by, each a small TOML file, read when first asked for."""

import tomllib
from functools import cache
from pathlib import Path
from types import MappingProxyType

from engine.nearest import nearest
from engine.published.profile import Profile
from engine.source import Authority, Seen, Source

DEFAULT = "industry"

_FOLDER = Path(__file__).parent / "profiles"


class UnknownProfile(LookupError):
    """No rule profile has that name. The message names the nearest, or all that there are."""


@cache
def profile_names() -> tuple[str, ...]:
    """Return the names of the shipped rule profiles, in the order of the alphabet.

    Returns:
        The names.

    Source:
        The files in the folder ``profiles`` beside this module.

    Example:
        >>> profile_names()
        ('federal', 'house', 'industry')
    """
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def profile(name: str = DEFAULT) -> Profile:
    """Return one rule profile.

    Args:
        name: Its name, ``industry`` if left out.

    Returns:
        The profile: its settings (units in their names) and the source of each.

    Raises:
        UnknownProfile: if no profile has that name.

    Source:
        Each setting names its own.

    Example:
        >>> profile("industry").settings["place_battery_needs_sheath"]
        True
    """
    if name not in profile_names():
        hint = nearest(name, profile_names(), f"there are {', '.join(profile_names())}")
        raise UnknownProfile(f'there is no rule profile "{name}"; {hint}')
    read = tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    settings = read["settings"]
    return Profile(
        name=read["name"],
        version=read["version"],
        title=read["title"],
        settings=MappingProxyType({key: found["value"] for key, found in settings.items()}),
        sources=MappingProxyType({key: _source(found) for key, found in settings.items()}),
    )


def _source(found: dict[str, str]) -> Source:
    return Source(Authority(found["authority"]), found["document"], found["place"], Seen(found["seen"]))
