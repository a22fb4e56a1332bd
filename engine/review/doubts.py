"""What a log says of itself that wants a question: each a kind and a sentence with its figures, that accuses nobody.

A log is its own witness: times, the clock, digits and the physics of the one circuit must agree with what was typed.
None of this is proof of anything; it keeps a log out of any acceptance in bulk, and takes points in the mark.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from engine.finding import Finding
from engine.procedure.model import Known, Procedure
from engine.quantity import show
from engine.session.events import Stamped, Taken
from engine.session.state import State


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing to ask about. ``kind`` is a word for counting; ``says`` is for people."""

    kind: str
    says: str


@dataclass(frozen=True, slots=True)
class Record:
    """What doubts are told from: ``clock`` as the header says it, the latest finding of each step and key.

    ``changed`` has each measured value that was corrected while a finding on it did not pass: its entry, the text
    before, the text after, and the reason.
    """

    clock: str
    procedure: Procedure
    state: State
    events: tuple[Stamped, ...]
    findings: Mapping[tuple[str, str], Finding]
    changed: tuple[tuple[str, str, str, str], ...] = ()

    def of_check(self, name: str) -> Iterator[Finding]:
        """Yield the findings of a check, in the order of the work."""
        return (finding for finding in self.findings.values() if finding.check == name)

    def is_measured(self, entry: str) -> bool:
        """Return whether an entry is read from an instrument."""
        asked = self.procedure.entry_by_id.get(entry)
        return asked is not None and asked.known is Known.MEASURED and bool(asked.instrument)

    def measured(self, *instruments: str) -> Iterator[Taken]:
        """Yield the measured numbers that stand, of some kinds of instrument; zero and over range are left out."""
        for entry, given in self.state.given.items():
            asked = self.procedure.entry_by_id.get(entry)
            if asked and asked.instrument in instruments and given.taken.number and not given.taken.over:
                yield given.taken


def minutes(seconds: float) -> str:
    """Return a time as it is said: whole seconds up to two minutes, else minutes.

    Example:
        >>> minutes(110.2), minutes(458.0)
        ('110 s', '8 min')
    """
    return f"{seconds:.0f} s" if seconds < 120 else f"{seconds / 60:.0f} min"


def volts(number: float) -> str:
    """Return volts with the digits that a meter shows: millivolts below a tenth of a volt."""
    return show(number, "V", step=0.01, both=False) if abs(number) >= 0.1 else f"{number * 1000:.0f} mV"
