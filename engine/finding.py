"""One verdict with everything needed to believe it, and its JSON."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from engine.source import Source

SCHEMA = 1

Scalar = float | int | str | bool
Value = Scalar | tuple["Value", ...] | None
"""What a check takes and gives: SI floats, labels, yes/no, lists of these; ``None`` is "not given"."""


class Verdict(StrEnum):
    """What a finding says, from good to bad."""

    PASS = "pass"
    MARGINAL = "marginal"
    UNDECIDED = "undecided"
    MISSING = "missing"
    FAIL = "fail"

    @property
    def severity(self) -> int:
        """0 for pass up to 4 for fail, so that ``max(..., key=severity)`` finds the worst."""
        return _SEVERITY[self._value_]

    @property
    def sign(self) -> str:
        """The ASCII sign that stands beside the word, so that colour is never needed."""
        return _SIGN[self._value_]


_SEVERITY = {verdict.value: place for place, verdict in enumerate(Verdict)}
_SIGN = {"pass": "+", "marginal": "~", "undecided": "?", "missing": "o", "fail": "x"}


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit that a value was held against. ``kind`` is ``at least``, ``at most`` or ``equal``."""

    name: str
    kind: str
    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.name} {self.kind} {self.value:.4g} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Finding:
    """A computed outcome. The plan, the step, the log, the audit and the page all show this one thing.

    ``values`` carry the unit in the name (``drop_v``, ``area_mm2``). ``sentence`` is for people and stands
    alone, at most about 66 characters where it can. ``sum_text`` is the sum as text (formula, inputs, result), or what
    makes it: read it as ``working``. ``margin`` is how far the deciding value is inside its limit, in that limit's
    unit, negative when outside. ``uncertainty`` is the half-width U = 2u of the deciding value. ``assumed`` names the
    inputs that took a default.
    ``firm`` is True when this outcome may never be overridden. ``hands`` is what the hands do now, before anything else
    is asked: not empty only on a fail that can hurt, on which every face says STOP.
    """

    check: str
    verdict: Verdict
    sentence: str
    values: Mapping[str, Value] = field(default_factory=dict)
    limits: tuple[Limit, ...] = ()
    margin: float | None = None
    uncertainty: float | None = None
    profile: str = ""
    conditions: tuple[str, ...] = ()
    sum_text: str | Callable[[], str] = field(default="", compare=False, repr=False)
    sources: tuple[Source, ...] = ()
    inputs: Mapping[str, Value] = field(default_factory=dict)
    assumed: frozenset[str] = frozenset()
    firm: bool = False
    remedy: str = ""
    hands: str = ""

    @property
    def working(self) -> str:
        """The sum as text, made when it is first wanted: most findings are judged and never opened."""
        return self.sum_text if isinstance(self.sum_text, str) else self.sum_text()

    def said_by(
        self, profile: str, sources: tuple[Source, ...], inputs: Mapping[str, Value], assumed: frozenset[str]
    ) -> "Finding":
        """Return it with what its check knows filled in, where the judge said nothing of its own.

        Args:
            profile: Name and version of the rule profile.
            sources: The sources of the check.
            inputs: What was judged, by name [base units].
            assumed: The names of the inputs that took a default.
        """
        return Finding(
            self.check,
            self.verdict,
            self.sentence,
            self.values,
            self.limits,
            self.margin,
            self.uncertainty,
            self.profile or profile,
            self.conditions,
            self.sum_text,
            self.sources or sources,
            self.inputs or inputs,
            self.assumed or assumed,
            self.firm,
            self.remedy,
            self.hands,
        )

    def to_json(self) -> dict[str, object]:
        """Return it as plain JSON data, with the keys that the developers' notes names."""
        return {
            "schema": SCHEMA,
            "check": self.check,
            "verdict": str(self.verdict),
            "values": {name: _plain(value) for name, value in self.values.items()},
            "limits": [{"name": x.name, "kind": x.kind, "value": x.value, "unit": x.unit} for x in self.limits],
            "margin": self.margin,
            "uncertainty": self.uncertainty,
            "profile": self.profile,
            "conditions": list(self.conditions),
            "sentence": self.sentence,
            "sum": self.working,
            "sources": [
                {"authority": str(s.authority), "document": s.document, "place": s.place, "seen": str(s.seen)}
                for s in self.sources
            ],
            "inputs": {
                name: {"value": _plain(value), "assumed": name in self.assumed} for name, value in self.inputs.items()
            },
            "remedy": self.remedy,
            "hands": self.hands,
            "firm": self.firm,
        }


def worst(findings: "tuple[Finding, ...] | list[Finding]") -> Verdict:
    """Return the worst verdict of a list, ``pass`` for an empty one."""
    return max((f.verdict for f in findings), key=lambda v: v.severity, default=Verdict.PASS)


def _plain(value: Value) -> object:
    """Return a value as JSON has it: a list for a tuple, ``OL`` for a meter that was over range."""
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return "OL" if isinstance(value, float) and math.isinf(value) else value
