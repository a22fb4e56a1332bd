"""Cuts the text of a limit into words: numbers with their units, names, quoted labels, signs."""

import re
from dataclasses import dataclass

LONGEST = 200
"""Characters that a limit may have (project rule: longer cannot be proofread on one screen)."""

JOINING = frozenset({"and", "or", "not"})

_UNIT_WORD = r"(?:[A-Za-zµμΩ°][A-Za-zµμΩ°²0-9·]*|%)"
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_UNIT = re.compile(rf"\s*((?:in|ft)-(?:lbf|lb)\b|(?:lbf|lb)-(?:in|ft)\b|{_UNIT_WORD}(?: {_UNIT_WORD})*)")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_LABEL = re.compile(r'"([^"\t\n]*)"')
_SIGN = re.compile(r"<=|>=|==|!=|[-+*/(),<>]")


class LimitFault(ValueError):
    """A limit that cannot be read: one sentence that says what is wrong and what would be right.

    ``column`` is the 0-based place of the fault in the limit's text.
    """

    def __init__(self, sentence: str, column: int = 0) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.column = column


@dataclass(frozen=True, slots=True)
class Token:
    """One word of a limit. ``kind`` is number, name, label, sign or end; ``unit`` stands behind a number."""

    kind: str
    text: str
    column: int
    unit: str = ""


def tokens(text: str) -> list[Token]:
    """Return the words of a limit, the last of kind ``end``.

    Raises:
        LimitFault: if the text is too long or holds a sign that no limit has.

    Example:
        >>> [word.text for word in tokens("depth - 1 mm")]
        ['depth', '-', '1', '']
    """
    if len(text) > LONGEST:
        raise LimitFault(f"a limit may have {LONGEST} characters, this one has {len(text)}; say it in two limits")
    hidden = next((place for place, sign in enumerate(text) if not sign.isprintable() and sign not in "\t\n"), None)
    if hidden is not None:
        raise LimitFault(_odd_sign(text[hidden]), hidden)
    found: list[Token] = []
    place = 0
    while place < len(text):
        if text[place] in " \t\n":
            place += 1
            continue
        token, place = _next(text, place)
        found.append(token)
    return [*found, Token("end", "", len(text))]


def _next(text: str, place: int) -> tuple[Token, int]:
    if number := _NUMBER.match(text, place):
        return _number(text, number)
    for kind, form in (("name", _NAME), ("label", _LABEL), ("sign", _SIGN)):
        if match := form.match(text, place):
            return Token(kind, match[1] if kind == "label" else match[0], place), match.end()
    raise LimitFault(_odd_sign(text[place]), place)


def _number(text: str, number: re.Match[str]) -> tuple[Token, int]:
    unit, end = "", number.end()
    if len(number[0]) > 15:
        raise LimitFault("a number may have 15 digits", number.start())
    if (match := _UNIT.match(text, end)) and (words := _unit_words(match[1])):
        unit, end = words, match.start(1) + len(words)
    return Token("number", number[0], number.start(), unit), end


def _unit_words(text: str) -> str:
    """Return the words before the first one that joins limits (``3 V and ...``); behind a number min is a minute."""
    words = text.split(" ")
    stop = next((place for place, word in enumerate(words) if word in JOINING), len(words))
    return " ".join(words[:stop])


def _odd_sign(sign: str) -> str:
    hints = {
        "=": "compare with ==, <= or >=",
        "'": 'write labels in "..."',
        '"': "the label has no closing quote",
        ".": "write a number with a digit before the point, such as 0.5",
        "&": "write and",
        "|": "write or",
        "!": "write not, or != to compare",
        "≤": "write <=",
        "≥": "write >=",
    }
    shown = sign if sign.isprintable() else f"U+{ord(sign):04X}"
    hint = hints.get(
        sign, "a limit has names, numbers with units, + - * / ( ) < <= > >= == != and, or, not, min, max, abs"
    )
    return f'"{shown}" is not a sign of a limit: {hint}'
