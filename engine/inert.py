"""Text from files and people made harmless to show: nothing in it can move, colour, hide or turn anything."""

import unicodedata

KEPT = frozenset("\n")
"""The only control sign that is let through: a line end."""

MOST_MARKS = 3
"""Combining marks kept on one letter; more would paint over the lines above and below."""

_JOINING = frozenset("\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180e\u3164\uffa0")
"""Signs that are drawn as nothing although Unicode does not call them format controls."""


def inert(text: str) -> str:
    """Return the text with every control, direction and invisible sign written out, as ``<U+202E>``.

    Args:
        text: Any text: a boat's name, a note, a value as typed, a line of a damaged log.

    Returns:
        Text whose signs are all visible, line ends apart; a tab becomes a space.

    Example:
        >>> inert("Grey [b]Heron[/b]")
        'Grey [b]Heron[/b]'
        >>> inert("a\\x1b[31mb")
        'a<U+001B>[31mb'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_signs(text))


def one_line(text: str) -> str:
    """Return inert text on one line: line ends become spaces.

    Example:
        >>> one_line("left hand wire\\nstill loose")
        'left hand wire still loose'
    """
    return " ".join(inert(text).split("\n"))


def _signs(text: str) -> "list[str]":
    signs: list[str] = []
    marks = 0
    for sign in text:
        kind = unicodedata.category(sign)
        marks = marks + 1 if kind in {"Mn", "Me"} else 0
        if marks <= MOST_MARKS:
            signs.append(_shown(sign, kind))
    return signs


def _shown(sign: str, kind: str) -> str:
    if sign == "\t":
        return " "
    if sign in KEPT:
        return sign
    if kind.startswith("C") or kind in {"Zl", "Zp"} or sign in _JOINING or 0xFE00 <= ord(sign) <= 0xFE0F:
        return f"<U+{ord(sign):04X}>"
    return " " if kind == "Zs" else sign
