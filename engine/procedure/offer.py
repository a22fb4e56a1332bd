"""Words that an entry offers: clauses with gaps such as ``<new_wire>``, filled from what was given before."""

import re
from collections.abc import Iterable, Mapping

DAY = "date"
"""The gap that the day is written in."""

_GAP = re.compile(r"<([a-z][a-z0-9_]*)>")


def gaps(clauses: Iterable[str]) -> tuple[str, ...]:
    """Return the names in the gaps of clauses, each once, in order.

    Example:
        >>> gaps(["breaker <rating> at <place>", "<date>"])
        ('rating', 'place', 'date')
    """
    return tuple(dict.fromkeys(name for clause in clauses for name in _GAP.findall(clause)))


def filled(clauses: Iterable[str], words: Mapping[str, str], most: int) -> str:
    """Return the clauses with their gaps filled, parted by ``;``.

    Args:
        clauses: Clauses with gaps.
        words: What stands for each name. A clause with a name that has none is left out.
        most: Characters at most; clauses past it are left out.

    Example:
        >>> filled(["breaker <rating>", "<spare> spare", "<date>"], {"rating": "60 A", "date": "2 May 2026"}, 200)
        'breaker 60 A; 2 May 2026'
    """
    said = ""
    for clause in clauses:
        if all(words.get(name) for name in gaps([clause])):
            longer = "; ".join(filter(None, (said, _GAP.sub(lambda gap: words[gap[1]], clause))))
            said = longer if len(longer) <= most else said
    return said
