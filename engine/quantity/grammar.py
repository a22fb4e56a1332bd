"""The grammar of an entry: a sign, a number, a unit's text, and for feet and inches a second number and unit."""

import re
from dataclasses import dataclass
from fractions import Fraction

from engine.quantity.number import Number, Wrong, number_at


@dataclass(frozen=True, slots=True)
class Written:
    """An entry taken apart. Columns are places in the entry. ``second`` is the smaller part of feet and inches."""

    sign: str
    number: Number
    unit_text: str
    unit_column: int
    number_column: int = 0
    second: "Written | None" = None

    @property
    def signed_value(self) -> Fraction:
        """The first number with its sign."""
        return -self.number.value if self.sign == "-" else self.number.value


_SIGN = re.compile(r"(?P<sign>[+-]?) *")
_COMPOUND_UNIT = re.compile(r"(?P<unit>ft\.?|feet|foot|'(?!')|hr?|min) *-? *(?=[0-9½¼¾⅛⅜⅝⅞])", re.IGNORECASE)
_EXPONENT = re.compile(r" *[eE][+-]?[0-9]")
_LETTER_FOR_DIGIT = re.compile(r"(?P<letter>[OolI])(?=[0-9.,])")
_NOT_NUMBERS = re.compile(r"(nan|inf|infinity|none|null)\b", re.IGNORECASE)
_FIGURES = {"O": "0", "o": "0", "l": "1", "I": "1"}


def taken_apart(text: str, example: str) -> Written | Wrong:
    """Return the parts of an entry, or what is wrong with its writing.

    Args:
        text: A cleaned entry (see ``alphabet``).
        example: What a right entry would be, for the sentence (``12.5 V``).

    Example:
        >>> written = taken_apart("-0.02 V", "12.5 V")
        >>> written.sign, written.signed_value, written.unit_text, written.unit_column
        ('-', Fraction(-1, 50), 'V', 6)
    """
    start = len(text) - len(text.lstrip())
    if start == len(text):
        return Wrong(f"Nothing was typed: type a number, such as {example}.", 0)
    opening = _SIGN.match(text, start)
    sign, at = (opening["sign"], opening.end()) if opening else ("", start)
    written = _part(text, at, sign, example)
    if isinstance(written, Wrong) or not (found := _COMPOUND_UNIT.match(text, written.unit_column)):
        return written
    second = _part(text, found.end(), "", example)
    if isinstance(second, Wrong):
        return second
    return Written(sign, written.number, found["unit"], written.unit_column, at, second)


def _part(text: str, at: int, sign: str, example: str) -> Written | Wrong:
    """Return a number and whatever follows it as the unit's text."""
    scanned = number_at(text, at)
    if isinstance(scanned, Wrong):
        return _no_number(text, at, example) if scanned.column == at else Wrong(scanned.sentence + ".", scanned.column)
    number, end = scanned
    rest = text[end:]
    column = end + len(rest) - len(rest.lstrip())
    return _misplaced(text, end, column) or Written(sign, number, rest.strip(), column, at)


def _no_number(text: str, at: int, example: str) -> Wrong:
    if text[at : at + 1] in ("+", "-") and text[at : at + 1]:
        return Wrong(f"There is more than one sign: type one, such as +{example}.", at)
    if found := _LETTER_FOR_DIGIT.match(text, at):
        figure = _FIGURES[found["letter"]]
        return Wrong(f"This is the letter {found['letter']}: type the figure {figure}.", at)
    if _NOT_NUMBERS.match(text, at):
        return Wrong(f"This is a word for no number: type what was measured, such as {example}.", at)
    return Wrong(f"There is no number here: type one, such as {example}.", at)


def _misplaced(text: str, end: int, column: int) -> Wrong | None:
    """Return what is wrong with the first thing after the number, if it cannot begin a unit."""
    if _EXPONENT.match(text, end):
        return Wrong("Write the number out with all its digits, such as 1000, without e.", column)
    following = text[column : column + 1]
    if not following:
        return None
    if following.isdecimal():
        return Wrong("Here begins a second number: type one, and part several readings with ;.", column)
    if following in "+-":
        return Wrong("One number is wanted, not a sum or a range: type the number alone.", column)
    if following == "/":
        return Wrong("A fraction is one whole number over another, such as 5/16.", column)
    if following == "*":
        return Wrong("One number is wanted, not a sum: type the number alone.", column)
    if text[end] in "Oo" and text[end + 1 : end + 2] in "0123456789.,":
        return Wrong("This is the letter O: type the figure 0.", end)
    return None
