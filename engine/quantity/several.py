"""Reads several readings typed in one line, parted by ``;``."""

from dataclasses import replace

from engine.quantity.alphabet import LONGEST, shown_safely
from engine.quantity.amount import Amount, Fault, Question, WireSize
from engine.quantity.read import read_wanted
from engine.quantity.wanted import Wanted

PART = ";"
"""Parts readings in one line. A slash is a fraction or a wire size, a comma a decimal mark."""


def several(text: str, *wanted: Wanted | str) -> tuple[Amount | WireSize | Question, ...] | Fault:
    """Return what each reading of a line means, in order, or the first fault with its place in the whole line.

    Args:
        text: The line as typed.
        wanted: What is asked for, one after the other; a unit alone stands for a plain reading in that unit.

    Raises:
        UnknownUnit: if a wanted unit is none of ours.

    Example:
        >>> [reading.number for reading in several("24.9; 12.4; 12.5", "V", "V", "V")]
        [24.9, 12.4, 12.5]
        >>> print(several("24.9; 2.4.9", "V", "V").caret())
        24.9; 2.4.9
                 ^
    """
    asked = [Wanted(item) if isinstance(item, str) else item for item in wanted]
    longest = (LONGEST + 1) * max(len(asked), 1)
    if len(text) > longest:
        sentence = f"This is {len(text)} characters long: type {len(asked)} readings, at most {longest} characters."
        return Fault(shown_safely(text[:LONGEST]), sentence, LONGEST)
    parts = text.split(PART)
    if len(parts) != len(asked):
        return Fault(shown_safely(text), _counted(len(parts), len(asked)), text.rfind(PART) + 1)
    return _each(text, parts, asked)


def _each(text: str, parts: list[str], asked: list[Wanted]) -> tuple[Amount | WireSize | Question, ...] | Fault:
    found: list[Amount | WireSize | Question] = []
    column = 0
    for part, wanted in zip(parts, asked, strict=True):
        meant = read_wanted(part, wanted)
        if isinstance(meant, Fault):
            return replace(meant, raw=shown_safely(text), column=column + meant.column)
        found.append(meant)
        column += len(part) + len(PART)
    return tuple(found)


def _counted(typed: int, asked: int) -> str:
    readings = "one reading is" if asked == 1 else f"{asked} readings are"
    return f"{readings.capitalize()} asked for and {typed} typed: part them with {PART}."
