"""What a named check is: its inputs, and a judge that turns them into one Finding."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from engine.finding import Finding, Value, Verdict
from engine.published.profile import Profile
from engine.quantity.wanted import LABEL_UNITS
from engine.rules.part import Part
from engine.source import Source
from engine.trade.ranges import OutOfRange, within

TO_BASE = {"mm": 1e-3, "mV": 1e-3, "mA": 1e-3, "min": 60.0}
"""Factors from the units that inputs are declared in to the base units that judges get. Source: SI prefixes."""

_ROOM = 1e-9
"""Relative room at the ends of a range for rounding in unit conversion. Source: IEEE 754 double."""


@dataclass(frozen=True, slots=True)
class Accuracy:
    """What an instrument can tell: percent of reading, counts of the last digit, one last digit in base units."""

    percent: float
    counts: float
    resolution: float


@dataclass(frozen=True, slots=True)
class Context:
    """What stands around a judgement: the rule profile, and the accuracy of each measured input by its name.

    An input that has no entry in ``accuracy`` is exact (a label, a count) or takes its ``Input.instrument``.
    """

    profile: Profile
    accuracy: Mapping[str, Accuracy] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a check.

    ``unit`` is the unit in which a bare number is read and in which ``low``, ``high`` and ``default`` are written
    (``A V ohm m mm mV N "N m" degC K s A min % "" W Ah``), or ``wire`` (a size label such as ``8 AWG``), ``yes/no``,
    ``choice``, ``words`` or ``pin map``. Judges receive **base units** (see engine.quantity): metres, seconds, volts,
    mm2 for an area, degC for a temperature, percent for a ratio; a wire or a pin map as its label; yes/no as bool; a
    choice as its word.
    ``many`` inputs are tuples. A required input that is ``None`` gives a ``missing`` finding; an optional one that is
    left out takes ``default`` (which may be None: the judge then does without) and is marked as assumed.
    ``over_range`` inputs may be ``inf`` (a meter that shows OL). ``instrument`` is the id of the usual instrument of
    a measured input in engine/published/instruments.toml, empty for labels, counts and words.
    ``worse`` says which way is worse where all else is the same: ``more`` or ``less`` of a number, of a wire, of a yes
    (``more`` is yes), of the choices (``more`` is a later one); empty where neither is.
    """

    name: str
    unit: str
    says: str
    low: float | None = None
    high: float | None = None
    default: Value = None
    required: bool = True
    choices: tuple[str, ...] = ()
    many: bool = False
    over_range: bool = False
    instrument: str = ""
    worse: str = ""

    def __post_init__(self) -> None:
        """Ask for nothing that has a default."""
        object.__setattr__(self, "required", self.required and self.default is None)

    def default_in_base(self) -> Value:
        """Return ``default`` in base units, as judges get it."""
        factor = TO_BASE.get(self.unit)
        if factor is None or isinstance(self.default, bool) or not isinstance(self.default, int | float):
            return self.default
        return self.default * factor

    def is_limited(self) -> bool:
        """Return whether a value can be outside it: a number always can, a label only where there is a choice."""
        return bool(self.choices) or self.unit not in LABEL_UNITS

    def range_in_base(self) -> tuple[float, float]:
        """Return the finite ends of its range in base units, an empty range if they are not both given."""
        if self.low is None or self.high is None:
            return math.inf, -math.inf
        factor = TO_BASE.get(self.unit, 1.0)
        return self.low * factor, self.high * factor

    def refuse_outside(self, value: Value, label: str = "") -> None:
        """Raise OutOfRange if ``value`` (base units) is outside ``low`` to ``high`` (in ``unit``) or is no choice.

        The message names it by ``label``; without one, by the input's name.
        """
        if isinstance(value, tuple):
            for item in value:
                match item:
                    case (str(own), labelled):
                        self.refuse_outside(labelled, own)
                    case _:
                        self.refuse_outside(item)
        elif isinstance(value, str):
            if self.choices and value not in self.choices:
                raise OutOfRange(f'{self.name} is "{value}"; it must be one of {", ".join(self.choices)}')
        elif isinstance(value, int | float) and not isinstance(value, bool):
            if math.isinf(value) and self.over_range:
                return
            self._refuse_number(value / TO_BASE[self.unit] if self.unit in TO_BASE else value, label or self.name)

    def _refuse_number(self, value: float, name: str) -> None:
        low, high = (-math.inf if self.low is None else self.low), (math.inf if self.high is None else self.high)
        if not low - _ROOM * abs(low) <= value <= high + _ROOM * abs(high):
            within(name, value, low, high, self.unit)
        if not math.isfinite(value):
            raise OutOfRange(f"{name} is {value:g}; it must be a number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One named check. ``rule`` is the trade rule that it carries out, ``example`` a complete command line.

    ``danger`` finds what one value alone decides, and hurts: it gets the inputs that are there (one that is not there
    is left out, a list may be short) and returns a fail with ``hands``, or None.
    """

    name: str
    rule: str
    title: str
    inputs: tuple[Input, ...]
    judge: Callable[[Mapping[str, Value], Context], Finding]
    sources: tuple[Source, ...]
    gives: tuple[tuple[str, str], ...] = ()
    example: str = ""
    firm: bool = False
    danger: Callable[[Mapping[str, Value]], Part | None] | None = None
    known: Mapping[str, Input] = field(init=False, repr=False, compare=False)
    defaults: Mapping[str, Value] = field(init=False, repr=False, compare=False)
    assumed: frozenset[str] = field(init=False, repr=False, compare=False)
    required: tuple[str, ...] = field(init=False, repr=False, compare=False)
    ranges: tuple[tuple[str, float, float], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out once what every run needs: inputs by name, defaults in base units, what must be there."""
        known = {item.name: item for item in self.inputs}
        defaults = {name: item.default_in_base() for name, item in known.items()}
        ranges = tuple((name, *item.range_in_base()) for name, item in known.items() if item.is_limited())
        object.__setattr__(self, "known", known)
        object.__setattr__(self, "defaults", defaults)
        object.__setattr__(self, "assumed", frozenset(name for name, value in defaults.items() if value is not None))
        object.__setattr__(self, "required", tuple(name for name, item in known.items() if item.required))
        object.__setattr__(self, "ranges", ranges)

    def run(self, given: Mapping[str, Value], context: Context) -> Finding:
        """Judge ``given`` (base units); what is not there takes its default, or makes the finding ``missing``.

        Raises:
            OutOfRange: if a number lies outside its input's range, or an unknown input is named.
        """
        stated = self._stated(given)
        values, assumed = {**self.defaults, **stated}, self.assumed.difference(stated)
        finding = self._missing(values) or self._judged(values, context)
        if self.danger is not None and (part := self.danger(values)) is not None:
            finding = _told_by(finding, part)
        return finding.said_by(
            f"{context.profile.name} {context.profile.version}", self.sources, values, frozenset(assumed)
        )

    def at_once(self, given: Mapping[str, Value], context: Context) -> Finding | None:
        """Return the fail that the inputs in ``given`` decide whatever the others will be, or None.

        Args:
            given: The inputs that are there already, by name [base units]; a list may be short, None is not there.
            context: The rule profile.

        Raises:
            OutOfRange: if an unknown input is named.
        """
        stated = self._stated(given)
        part = None if self.danger is None else self.danger(stated)
        if part is None:
            return None
        finding = _told_by(Finding(self.name, Verdict.FAIL, ""), part)
        return finding.said_by(f"{context.profile.name} {context.profile.version}", self.sources, stated, frozenset())

    def _stated(self, given: Mapping[str, Value]) -> dict[str, Value]:
        if not self.known.keys() >= given.keys():
            name = next(name for name in given if name not in self.known)
            raise OutOfRange(f'{self.name} has no input "{name}"; it takes {", ".join(self.known)}')
        return {name: value for name, value in given.items() if value is not None}

    def _missing(self, values: Mapping[str, Value]) -> Finding | None:
        for name in self.required:
            if values[name] is None:
                return Finding(self.name, Verdict.MISSING, f"not measured: {self.known[name].says}", firm=self.firm)
        return None

    def _judged(self, values: Mapping[str, Value], context: Context) -> Finding:
        for name, low, high in self.ranges:
            value = values[name]
            if value is not None and (type(value) is not float or not low <= value <= high):
                self.known[name].refuse_outside(value)
        return self.judge(values, context)


def _told_by(finding: Finding, part: Part) -> Finding:
    """Return the finding with the words of the part that decides it alone."""
    return replace(
        finding,
        verdict=part.verdict,
        sentence=part.sentence,
        remedy=part.remedy,
        firm=finding.firm or part.firm,
        hands=part.hands,
    )
