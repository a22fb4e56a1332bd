"""What is asked for in one entry: its unit or form, and what belongs to an answer."""

from dataclasses import dataclass

from engine.quantity.amount import Kind
from engine.quantity.pin_rows import PIN_MAP
from engine.quantity.units import UNITS, kind_of, kind_words

WIRE = "wire"
"""The unit of an entry that asks for a wire size."""

LABEL_UNITS = (WIRE, "yes/no", "choice", "words", PIN_MAP)
"""Units of entries that are no number, and stay a label."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One entry as it is asked.

    ``unit`` is one of ``units.UNITS`` or of ``LABEL_UNITS``. ``over_range`` and ``signed`` belong to a number,
    ``choices`` to a choice, ``near``, ``far`` (positions of both ends) and ``measured`` to a pin map.
    """

    unit: str
    over_range: bool = False
    signed: bool = False
    choices: tuple[str, ...] = ()
    near: tuple[str, ...] = ()
    far: tuple[str, ...] = ()
    measured: bool = True

    @property
    def kind(self) -> Kind:
        """The kind of quantity asked for (a wire size counts as an area)."""
        return Kind.AREA if self.unit == WIRE else kind_of(self.unit)

    @property
    def words(self) -> str:
        """The kind as people say it."""
        return kind_words(self.kind)

    @property
    def example(self) -> str:
        """A right entry, for the end of a sentence."""
        number = "12" if self.kind is Kind.COUNT else "12.5"
        return f"{'+' if self.signed else ''}{number} {self.unit}".rstrip()

    @property
    def units(self) -> str:
        """The units that may be typed here, the asked one first: ``mm, m, cm, in or ft``."""
        others = [unit for unit in UNITS if unit != self.unit and kind_of(unit) is self.kind]
        return " or ".join(", ".join([self.unit, *others]).rsplit(", ", 1))
