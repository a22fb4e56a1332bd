"""One part of a verdict, the worst of several, and the two limits that a measured value is held against."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.finding import Limit, Verdict
from engine.rules.say import apart, short
from engine.trade.decision import band_at_most, band_eased

NOT_BELIEVED = "too good to be true: a reading that cannot be is taken again, however good it looks"
"""Condition of a finding that doubts its own reading; a worse reading may then be the better one."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a verdict: what it says, what to do about it, and what the hands do now if it can hurt."""

    verdict: Verdict
    sentence: str
    remedy: str = ""
    firm: bool = False
    hands: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What a measured value may be: good up to one limit, bearable with a reason up to the other, in words.

    ``what`` names the value, before it or round a ``{}``; ``good`` and ``bearable`` are in ``unit`` (``bearable`` is
    ``good`` where it is left out), and with ``least`` both are the least and not the most. ``mend`` is the remedy of a
    value that is off, ``settle`` that of a reading too coarse to tell. ``eased`` says that ``good`` holds the
    uncertainty already.
    """

    what: str
    good: float
    unit: str
    bearable: float | None = None
    least: bool = False
    mend: str = ""
    settle: str = ""
    eased: bool = False

    @property
    def limits(self) -> tuple[Limit, ...]:
        """Both limits, or the one, as a finding carries them."""
        kind = "at least" if self.least else "at most"
        name = self.what.replace("{} ", "")
        return tuple(Limit(name, kind, limit, self.unit) for limit in dict.fromkeys((self.good, self._far)))

    def part(self, value: float, uncertainty: float = 0.0) -> Part:
        """Return what the band says of ``value``, measured to +- ``uncertainty`` [both in ``unit``]."""
        sign = -1.0 if self.least else 1.0
        judge = band_eased if self.eased else band_at_most
        verdict = judge(sign * value, sign * self.good, sign * self._far, uncertainty)
        near = verdict is Verdict.UNDECIDED or (verdict is Verdict.MARGINAL and sign * value <= sign * self.good)
        remedy = "" if verdict is Verdict.PASS else (self.settle or self.mend) if near else self.mend
        return Part(verdict, self._said(verdict, value, near=near), remedy)

    @property
    def _far(self) -> float:
        return self.good if self.bearable is None else self.bearable

    def _said(self, verdict: Verdict, value: float, *, near: bool) -> str:
        limit = self.good if verdict in (Verdict.PASS, Verdict.MARGINAL) else self._far
        figure = f"{short(value) if verdict is Verdict.PASS else apart(value, limit)} {self.unit}".rstrip()
        said = self.what.format(figure) if "{}" in self.what else f"{self.what} {figure}"
        if verdict is Verdict.MARGINAL:
            way = "from" if self.least else "to"
            good = f"too near {short(limit)} to pass" if near else f"good {way} {short(limit)}"
            return f"{said}: {good}, {way} {short(self._far)} with a reason"
        held = f"{said}, {'needs' if self.least else 'allowed'} {short(limit)}"
        return f"{held}: too coarse a reading to tell" if verdict is Verdict.UNDECIDED else held


def worst_part(parts: Sequence[Part]) -> Part:
    """Return the first part of the worst verdict."""
    return max(parts, key=lambda part: part.verdict.severity)
