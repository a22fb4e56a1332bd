"""One number without its sign: a decimal, a fraction, a whole number with a fraction. Exact, never by evaluation."""

import re
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Number:
    """A number as written. ``step`` is one last digit, or one part of a fraction.

    ``fraction`` is True if a fraction was written. ``thousands`` is the other meaning of a comma before three digits
    (``1,000``), ``None`` if there is only one.
    """

    value: Fraction
    step: Fraction
    fraction: bool = False
    thousands: Fraction | None = None

    @property
    def whole(self) -> bool:
        """True if written without a decimal mark or a fraction."""
        return not self.fraction and self.step == 1


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with the writing, and the column where."""

    sentence: str
    column: int


_VULGAR = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}
_FRACTION = re.compile(
    rf"(?:(?P<whole>[0-9]+)(?: *- *| +|(?=[{''.join(_VULGAR)}])))?"
    rf"(?:(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<vulgar>[{''.join(_VULGAR)}]))"
)
_DECIMAL = re.compile(r"(?P<whole>[0-9]*)(?:(?P<mark>[.,])(?P<part>[0-9]+))?")
_FINEST_PART = 1000


def number_at(text: str, start: int) -> tuple[Number, int] | Wrong:
    """Return the number that begins at ``start`` and the column after it, or what is wrong.

    Args:
        text: A cleaned entry.
        start: The column at which the number must begin.

    Example:
        >>> number_at("1-5/16 in", 0)
        (Number(value=Fraction(21, 16), step=Fraction(1, 16), fraction=True, thousands=None), 6)
    """
    if found := _FRACTION.match(text, start):
        return _fraction(found)
    found = _DECIMAL.match(text, start)
    if found is None or found.end() == start:
        return Wrong("There is no number here", start)
    end = found.end()
    if text[end : end + 1] in (".", ",") and text[end : end + 1]:
        return _second_mark(text, found)
    return _decimal(found), end


def _fraction(found: re.Match[str]) -> tuple[Number, int] | Wrong:
    top, bottom = _VULGAR[found["vulgar"]] if found["vulgar"] else (int(found["top"]), int(found["bottom"]))
    at = found.start("bottom") if found["bottom"] else found.start("vulgar")
    if not 0 < bottom <= _FINEST_PART:
        return Wrong(f"A fraction is parted in 1 to {_FINEST_PART}, such as 5/16", at)
    if found["whole"] and top >= bottom:
        return Wrong("After a whole number the fraction is below one, such as 1 5/16", found.start("top"))
    value = int(found["whole"] or 0) + Fraction(top, bottom)
    return Number(value, Fraction(1, bottom), fraction=True), found.end()


def _decimal(found: re.Match[str]) -> Number:
    whole, part = found["whole"], found["part"] or ""
    step = Fraction(1, 10 ** len(part))
    value = int(whole + part) * step
    grouped = found["mark"] == "," and len(part) == 3 and 1 <= len(whole) <= 3 and not whole.startswith("0")
    return Number(value, step, thousands=Fraction(int(whole + part)) if grouped else None)


def _second_mark(text: str, found: re.Match[str]) -> Wrong:
    end = found.end()
    after = text[end + 1 : end + 2]
    if after and after in "Oo":
        return Wrong("This is the letter O: type the figure 0", end + 1)
    if found["mark"] and found["mark"] != text[end]:
        return Wrong("Type one decimal mark and no thousands mark, such as 1000.5", end)
    if found["mark"]:
        return Wrong("A number has one decimal mark, such as 24.9", end)
    if after in (".", ",") and after:
        return Wrong("A number has one decimal mark, such as 24.9", end + 1)
    return Wrong("A digit is missing after the decimal mark, such as 24.9", end + 1)
