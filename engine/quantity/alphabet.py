"""The gate before all reading: length first, then which characters may stand in an entry at all."""

import unicodedata

from engine.quantity.amount import Fault

LONGEST = 40
"""Characters in the longest entry that is looked at (project rule: the longest honest one, in words, has about 30)."""

_SAME = {
    "-": "\u2212\u2013\u2010\u2011",  # minus sign, en dash, hyphens
    "/": "\u2044\u2215",  # fraction slash, division slash
    " ": "\u00a0\u2009\u202f",  # spaces that do not break, thin space
    "'": "\u2032\u2018\u2019",  # prime and curly single quotes
    '"': "\u2033\u201c\u201d",  # double prime and curly double quotes
    "u": "\u00b5\u03bc",  # micro sign, Greek mu
    "Ω": "\u2126",  # ohm sign
    "·": "\u22c5\u2022\u2219",  # dot operator, bullets
    "°": "\u00ba\u02da",  # ordinal sign and ring, both typed for degree
}
_ONE_FOR_ONE = str.maketrans({variant: plain for plain, variants in _SAME.items() for variant in variants})
_BEYOND_ASCII = frozenset("Ω·°²℃℉½¼¾⅛⅜⅝⅞")


def cleaned(text: str, longest: int = LONGEST) -> str | Fault:
    """Return the entry with look-alike signs made one, character for character, or what may not stand in it.

    The length is looked at before anything else, so that pasted text of any size costs nothing.

    Args:
        text: The entry as typed.
        longest: The most characters that are looked at.

    Example:
        >>> cleaned("\\u22120.02 V")
        '-0.02 V'
    """
    if len(text) > longest:
        sentence = f"This is {len(text)} characters long: type one reading, at most {longest} characters."
        return Fault(shown_safely(text[:longest]), sentence, longest)
    plain = with_plain_signs(text)
    for column, sign in enumerate(plain):
        if not _allowed(sign):
            return Fault(shown_safely(text), _refusal(sign), column)
    return plain


def with_plain_signs(text: str) -> str:
    """Return the text with look-alike signs made one, character for character.

    Example:
        >>> with_plain_signs("\\u22125\\u00a0V")
        '-5 V'
    """
    return text.translate(_ONE_FOR_ONE)


def shown_safely(text: str) -> str:
    """Return the text with everything that a terminal might obey or draw double-width replaced by ``?``.

    Example:
        >>> shown_safely("5\\x1b[2J")
        '5?[2J'
    """
    return "".join(sign if _allowed(sign) or sign in _SAFE else "?" for sign in text)


_SAFE = frozenset(variant for variants in _SAME.values() for variant in variants)


def _allowed(sign: str) -> bool:
    return " " <= sign <= "~" or sign in _BEYOND_ASCII


def _refusal(sign: str) -> str:
    """Return the sentence for a character that may not stand in an entry, naming it without showing it."""
    if sign.isdecimal():
        return f"This is a digit of another script or width: type a plain {unicodedata.decimal(sign)}."
    name = unicodedata.name(sign, "")
    if not name or unicodedata.category(sign).startswith("C"):
        return "There is a hidden control character here: delete the entry and type it by hand."
    return f"The character {name.lower()[:30]} has no place in a reading: type digits and a unit."
