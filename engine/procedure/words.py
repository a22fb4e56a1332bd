"""The word lists of the linter, from the file ``words.toml`` beside this module, read when first asked for."""

import re
import tomllib
from functools import cache
from pathlib import Path


@cache
def _lists() -> dict[str, str | dict[str, str]]:
    return tomllib.loads(Path(__file__).with_name("words.toml").read_text(encoding="utf-8"))


@cache
def verbs() -> frozenset[str]:
    """Return the verbs that begin an order in this trade.

    Example:
        >>> "measure" in verbs()
        True
    """
    return frozenset(str(_lists()["verbs"]).split())


@cache
def things() -> frozenset[str]:
    """Return the verbs that name a thing as well, when nothing follows them.

    Example:
        >>> "fuse" in things()
        True
    """
    return frozenset(str(_lists()["things"]).split())


@cache
def trade() -> frozenset[str]:
    """Return the long words that the trade or everybody uses.

    Example:
        >>> "receptacle" in trade()
        True
    """
    return frozenset(str(_lists()["trade"]).split())


@cache
def plain() -> dict[str, str]:
    """Return what to write instead of each word that is harder than it need be.

    Example:
        >>> plain()["prior to"]
        'before'
    """
    found = _lists()["plain"]
    return found if isinstance(found, dict) else {}


@cache
def discouraged() -> re.Pattern[str]:
    """Return the pattern that finds those words, the longest first."""
    return re.compile(rf"\b({'|'.join(map(re.escape, sorted(plain(), key=len, reverse=True)))})\b", re.IGNORECASE)
