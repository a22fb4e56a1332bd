"""Names for files that every system takes: letters, digits and dashes, short, never a path."""

import re
import unicodedata
from datetime import date

MAX_STEM = 80
"""Longest name of a log, without its ending [characters]; a project rule."""

MAX_PART = 32
"""Longest part of it: boat or procedure [characters]; a project rule."""

_RESERVED = {"con", "prn", "aux", "nul", "conin", "conout"} | {
    f"{kind}{n}" for kind in ("com", "lpt") for n in range(10)
}
_LETTERS = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ħ": "h", "ŋ": "ng"}
)


def stem(day: date, asset: str, procedure: str) -> str:
    """Return the name of a log, without its ending.

    Args:
        day: The day on which the job begins.
        asset: The boat or trailer, as typed.
        procedure: The procedure's id or title.

    Example:
        >>> stem(date(2025, 6, 1), "Sea Otter II", "receptacle upgrade")
        '2025-06-01-sea-otter-ii-receptacle-upgrade'
        >>> stem(date(2025, 6, 1), "../Bøtchen", "")
        '2025-06-01-botchen'
    """
    parts = (day.isoformat(), _folded(asset), _folded(procedure))
    return "-".join(part for part in parts if part)[:MAX_STEM].rstrip("-")


def legal_stem(text: str, otherwise: str = "unnamed") -> str:
    """Return ``text`` as a name, without ending, that every system takes; ``otherwise`` if nothing of it is left.

    Example:
        >>> legal_stem("Con"), legal_stem("..\\\\photo 1"), legal_stem("***")
        ('con-file', 'photo-1', 'unnamed')
    """
    name = _folded(text) or otherwise
    return f"{name}-file" if name in _RESERVED else name


def _folded(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text[: 4 * MAX_PART].casefold().translate(_LETTERS))
    bare = plain.encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", bare).strip("-")[:MAX_PART].strip("-")
