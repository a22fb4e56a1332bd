"""The plan of the circuit before the work: as found, as planned, the weakest part, the remedy, what to buy."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Finding, Value, Verdict
from engine.plan.cheapest import Bought, cheapest, known_enough
from engine.plan.circuit import Circuit, as_built, as_found, as_number, as_planned
from engine.plan.judged import Judged, JudgedPart, device_a, judge_circuit, loop_ohm, parts_ohm
from engine.plan.remedy import remedies
from engine.plan.shopping import to_buy
from engine.plan.what_if import Row, rows_near
from engine.procedure.model import Procedure
from engine.trade.conductor import VERDICT_TEMPERATURE_C


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan. ``found`` and ``planned`` are the judged circuits; the plan's hold looks at the planned one."""

    found: Judged
    planned: Judged
    bought: Bought
    profile: str

    @property
    def buy(self) -> tuple[str, ...]:
        """What to buy, a line each; empty while a length is not known or a fail would stay."""
        ready = known_enough(self.planned) and self.bought.judged.verdict is not Verdict.FAIL
        return to_buy(self.found.circuit, self.planned.circuit, self.bought.judged) if ready else ()

    @property
    def remedies(self) -> tuple[str, ...]:
        """What to change, a sentence each; empty if every part passes."""
        return remedies(self.planned, self.bought)

    @property
    def remedy(self) -> str:
        """The one thing to change first; empty if every part passes."""
        return next(iter(self.remedies), "")

    @property
    def verdict(self) -> Verdict:
        """The worst verdict on the planned circuit."""
        return self.planned.verdict

    def what_if(self) -> tuple[Row, ...]:
        """Return the rows of the planned wire size and its neighbours."""
        return rows_near(self.planned.circuit, self.profile)

    def as_finding(self) -> Finding:
        """Return the plan as one finding, for a hold and for the log."""
        weak = self.planned.weakest
        loading = weak.loading if weak else None
        return Finding(
            "plan",
            self.verdict,
            side_sentence(self.planned, "as planned", every=True),
            values={
                "found": str(self.found.verdict),
                "planned": str(self.planned.verdict),
                "weakest": weak.part.id if weak else "",
                "loading": loading,
            },
            sum_text=lambda: "\n\n".join(f.working for p in self.planned.parts for f in p.findings if f.working),
            sources=tuple(dict.fromkeys(s for p in self.planned.parts for f in p.findings for s in f.sources)),
            profile=next((f.profile for p in self.planned.parts for f in p.findings), self.profile),
            remedy=self.remedy,
        )

    def to_json(self) -> dict[str, object]:
        """Return the plan as plain JSON data."""
        return {
            "schema": 1,
            "verdict": str(self.verdict),
            "remedy": self.remedy,
            "remedies": list(self.remedies),
            "buy": list(self.buy),
            "as_found": _side_json(self.found),
            "as_planned": _side_json(self.planned),
            "as_bought": _side_json(self.bought.judged),
            "what_if": [
                {
                    "size": r.size,
                    "drop_percent": r.drop_percent,
                    "hot_drop_percent": r.hot_drop_percent,
                    "allowable_a": r.allowable_a,
                    "copper_kg": r.copper_kg,
                    "verdict": str(r.verdict),
                }
                for r in self.what_if()
            ],
        }


def make_plan(procedure: Procedure, values: Mapping[str, Value], profile_name: str) -> Plan:
    """Return the plan for the facts given so far (``values``, in base units) under a rule profile.

    The last plan is kept: while a step is typed, ended and audited, the same circuit is asked about several times.
    """
    asked = (as_found(procedure, values), as_planned(procedure, values), profile_name)
    kept = _LAST.get(0)
    if kept is not None and kept[0] == asked and _same_kinds(kept[0], asked):
        return kept[1]
    plan = _make(*asked)
    _LAST[0] = (asked, plan)
    return plan


_Asked = tuple[Circuit, Circuit, str]
_LAST: dict[int, tuple[_Asked, Plan]] = {}


def _same_kinds(one: _Asked, other: _Asked) -> bool:
    """Return whether equal figures are also of the same kind: True and 1 are equal, and are not the same figure."""
    parts = ((*asked[0].parts, *asked[1].parts) for asked in (one, other))
    kinds = [[type(value) for part in side for value in part.figures.values()] for side in parts]
    return kinds[0] == kinds[1]


def _make(as_it_is: Circuit, as_it_will_be: Circuit, profile_name: str) -> Plan:
    found, planned = judge_circuit(as_it_is, profile_name), judge_circuit(as_it_will_be, profile_name)
    return Plan(found, planned, cheapest(planned, profile_name), profile_name)


SOFT_C = 250.0
"""Copper beyond this has lost any jacket [degC]: no load test is read then. Source: IEC 60949 as quoted, XLPE."""


def planned_figures(procedure: Procedure, values: Mapping[str, Value], profile_name: str) -> dict[str, Value]:
    """Return the figures of the circuit, as built so far, that a check may ask for, by their names (``plan.loop``).

    Wires' loop at 29.3 degC and parts [ohm], hottest copper [degC], least allowable current and lowest rating [A].
    """
    judged = judge_circuit(as_built(procedure, values), profile_name)
    hot_c = max(_told(judged, "hot_temperature_c"), default=None)
    return {
        "plan.loop": loop_ohm(judged.circuit),
        "plan.parts": parts_ohm(judged.circuit),
        "plan.hot": None if hot_c is None else min(max(hot_c, VERDICT_TEMPERATURE_C), SOFT_C),
        "plan.allowable": min(_told(judged, "allowable_a"), default=None),
        "plan.device": device_a(judged.circuit),
    }


def _told(judged: Judged, name: str) -> list[float]:
    """Return a figure of every finding that tells it."""
    told = (as_number(finding.values.get(name)) for part in judged.parts for finding in part.findings)
    return [figure for figure in told if figure is not None]


SHORT = {
    "ampacity": "heat",
    "voltage-drop": "drop",
    "protection-size": "size",
    "protection-place": "place",
    "protection-kind": "kind",
    "fault-current": "short",
    "weakest-part": "rating",
    "volts-at-load": "volts",
}
"""What a check on a part is about, in a word."""


def side_sentence(judged: Judged, name: str, *, every: bool = False) -> str:
    """Return one sentence on a circuit: its weakest part and why, ``every`` other in a word, or that all pass."""
    weak = judged.weakest
    if weak is None:
        return f"{name}: no part could be judged"
    if weak.verdict is Verdict.PASS:
        return f"{name}: every part passes; the {weakest_words(weak)} carries most of its rating"
    finding = _worst(weak)
    others = [f"{part.name} ({SHORT[f.check]})" for part, f in judged.not_passed() if f is not finding]
    also = f"; also {', '.join(others)}" if every and others else ""
    return f"{name}: {weak.part.name}: {finding.sentence.removeprefix(f'{weak.part.name}: ')}{also}"


def weakest_words(weak: JudgedPart) -> str:
    """Return the weakest part in words: how much of its rating it carries, or what it does not pass by."""
    if weak.verdict is not Verdict.PASS:
        return f"{weak.part.name} ({SHORT[_worst(weak).check]})"
    return f"{weak.part.name} ({100 * weak.loading:.0f} %)" if weak.loading is not None else weak.part.name


def _worst(weak: JudgedPart) -> Finding:
    return max(weak.findings, key=lambda f: f.verdict.severity)


def _side_json(judged: Judged) -> dict[str, object]:
    weak = judged.weakest
    return {
        "verdict": str(judged.verdict),
        "weakest": weak.part.id if weak else None,
        "parts": [
            {
                "id": p.part.id,
                "kind": str(p.part.kind),
                "name": p.part.name,
                "figures": dict(p.part.figures),
                "loading": p.loading,
                "verdict": str(p.verdict),
                "findings": [f.to_json() for f in p.findings],
            }
            for p in judged.parts
        ],
    }
