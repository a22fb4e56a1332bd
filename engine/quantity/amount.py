"""What typed text becomes: an amount, a wire size, a fault with its place, or a question to the person."""

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """A kind of quantity. Its value is the base unit in which numbers are kept (COUNT is a bare number)."""

    VOLTAGE = "V"
    CURRENT = "A"
    RESISTANCE = "ohm"
    LENGTH = "m"
    AREA = "mm2"
    TORQUE = "N m"
    FORCE = "N"
    TEMPERATURE = "degC"
    DIFFERENCE = "K"
    TIME = "s"
    POWER = "W"
    CHARGE = "Ah"
    RATIO = "%"
    COUNT = ""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number that was typed. ``raw`` is the text exactly as typed.

    ``number`` is in the kind's base unit; ``inf`` if the meter showed over range. ``unit`` is the unit the text was
    understood in (``mm``), ``step`` the size of one last typed digit in base units, ``signed`` whether a sign was
    typed.
    """

    raw: str
    number: float
    kind: Kind
    unit: str
    step: float = 0.0
    signed: bool = False


@dataclass(frozen=True, slots=True)
class WireSize:
    """A wire size as marked. ``label`` is the one spelling used everywhere: ``8 AWG``, ``SAE 10``, ``16 mm2``."""

    raw: str
    system: str
    label: str


@dataclass(frozen=True, slots=True)
class Label:
    """An answer that stays a label. ``value`` is True for yes, False for no, else the one spelling used everywhere."""

    raw: str
    value: bool | str


@dataclass(frozen=True, slots=True)
class Fault:
    """Text that cannot be understood: one sentence that says what is wrong and what would be right, and where.

    ``column`` is the 0-based place of the fault in ``raw`` (for the caret).
    """

    raw: str
    sentence: str
    column: int = 0

    def caret(self) -> str:
        """Return the text and a caret under the fault, two lines."""
        return f"{self.raw}\n{' ' * self.column}^"


@dataclass(frozen=True, slots=True)
class Question:
    """Text that could mean more than one thing. The person picks one of ``choices``; nothing is changed silently.

    Each choice is (text to show, the amount or wire size it would be). The first choice is always "as typed" where
    that has a meaning of its own.
    """

    raw: str
    sentence: str
    choices: tuple[tuple[str, "Amount | WireSize"], ...]


Read = Amount | WireSize | Fault | Question
