"""The findings on each part of a circuit: which checks fit which part, and where their inputs come from."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from engine.finding import Finding, Value, Verdict, worst
from engine.plan.circuit import DEVICES, Circuit, Part
from engine.plan.fault import bank_fault_figures, strings
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile
from engine.rules.check import Context
from engine.rules.registry import check, run
from engine.trade.conductor import VERDICT_TEMPERATURE_C, area_mm2, resistance_ohm_per_m
from engine.trade.ranges import OutOfRange

CHECKS: Mapping[PartKind, tuple[str, ...]] = {
    PartKind.WIRE: ("ampacity", "voltage-drop"),
    PartKind.PROTECTION: ("protection-size", "protection-place", "protection-kind", "fault-current"),
    PartKind.RECEPTACLE: ("weakest-part",),
    PartKind.PLUG: ("weakest-part",),
    PartKind.SWITCH: ("weakest-part",),
}
"""The checks on a part before any work, by its kind."""

MOST_KNOWN = 2_000
"""Findings on parts that are kept [count]; a project rule, about 5 MB. The old part is asked about in every plan."""

NEEDED: Mapping[tuple[str, str], str] = {
    ("voltage-drop", "extra"): "the other wires of this run",
    ("protection-kind", "parallel"): "how many batteries, and the volts of each",
}
"""Inputs that a check may do without and a circuit may not: what is not known there is missing, never nothing."""

_KNOWN: dict[tuple[str, str, str], Finding] = {}
"""By check, profile and every figure to its last digit: a check gives the same finding for the same figures."""


@dataclass(frozen=True, slots=True)
class JudgedPart:
    """A part with its findings. ``loading`` is load over rating (no unit), None where nothing is rated."""

    part: Part
    findings: tuple[Finding, ...]
    loading: float | None

    @property
    def verdict(self) -> Verdict:
        """The worst verdict on the part."""
        return worst(self.findings)

    def finding(self, name: str) -> Finding | None:
        """Return the finding of one check, if it was made."""
        return next((f for f in self.findings if f.check == name), None)


@dataclass(frozen=True, slots=True)
class Judged:
    """A whole circuit with its findings."""

    circuit: Circuit
    parts: tuple[JudgedPart, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst verdict on any part."""
        return worst([f for p in self.parts for f in p.findings])

    @property
    def weakest(self) -> JudgedPart | None:
        """The part to look at first: the worst verdict, and among equals the highest loading."""
        judged = [p for p in self.parts if p.findings]
        return max(judged, key=lambda p: (p.verdict.severity, p.loading or 0.0), default=None)

    def of(self, part_id: str) -> JudgedPart:
        """Return a part by id."""
        return next(p for p in self.parts if p.part.id == part_id)


def judge_circuit(circuit: Circuit, profile_name: str) -> Judged:
    """Return every part of ``circuit`` with its findings under a rule profile."""
    context = Context(profile(profile_name))
    base = _shared(circuit)
    wires = {p.id: _wire_findings(circuit, p, base, context) for p in circuit.of_kind(PartKind.WIRE)}
    allowed = [_number(f.values.get("allowable_a")) for found in wires.values() for f in found if f.check == "ampacity"]
    known = base | {"allowable": min((a for a in allowed if a is not None), default=None), "loop": loop_ohm(circuit)}
    parts = []
    for part in circuit.parts:
        findings = wires[part.id] if part.id in wires else _findings(part, known, context)
        parts.append(JudgedPart(part, findings, _loading(part, findings, _number(base["load"]))))
    return Judged(circuit, tuple(parts))


def _shared(circuit: Circuit) -> dict[str, Value]:
    names = ("nominal", "class", "continuous", "self_limiting", "maker_size", "short_circuit", "charging")
    lithium = circuit.shared("chemistry") in ("lithium", "lifepo4")
    declared = {name for part in circuit.parts for name in part.figures}
    return (
        {name: circuit.shared(name) for name in names if name in declared}
        | bank_fault_figures(circuit)
        | {
            "load": circuit.shared("current"),
            "device": device_a(circuit),
            "cca": circuit.shared("cranking"),
            "parallel": strings(circuit),
            "chemistry": "lithium" if lithium else "lead",
            "vapour": circuit.shared("fuel_vapour"),
        }
    )


def device_a(circuit: Circuit) -> float | None:
    """Return the lowest rating of receptacle, plug and switch [A], None if none is known."""
    return min((r for p in circuit.of_kind(*DEVICES) if (r := p.number("rating")) is not None), default=None)


def _wire_findings(circuit: Circuit, part: Part, base: Mapping[str, Value], context: Context) -> tuple[Finding, ...]:
    others = [other for other in circuit.of_kind(PartKind.WIRE) if other.id != part.id]
    cold, hot = total(map(wire_ohm, others)), total(_hot_ohm(other, base, context) for other in others)
    return _findings(part, {**base, "extra": cold, "extra_hot": hot}, context)


def total(figures: Iterable[float | None]) -> float | None:
    """Return a sum, None if one of its figures is not known."""
    known = list(figures)
    return None if None in known else sum(f for f in known if f is not None)


def _hot_ohm(wire: Part, base: Mapping[str, Value], context: Context) -> float | None:
    """Return the resistance of one wire at the temperature that the load brings it to; as cold where none is told."""
    alone = _run("voltage-drop", wire, base, context)
    hot_v, load_a = (alone.values.get("hot_drop_v"), _number(base["load"])) if alone else (None, None)
    return hot_v / load_a if isinstance(hot_v, float) and load_a else wire_ohm(wire)


def _findings(part: Part, known: Mapping[str, Value], context: Context) -> tuple[Finding, ...]:
    return tuple(f for name in CHECKS.get(part.kind, ()) if (f := _run(name, part, known, context)) is not None)


def _run(name: str, part: Part, known: Mapping[str, Value], context: Context) -> Finding | None:
    inputs = {i.name: i for i in check(name).inputs}
    declared = {n: v for n, v in {**known, **part.figures}.items() if n in inputs}
    if name == "weakest-part":
        declared["ratings"] = (part.figures["rating"],) if part.figures.get("rating") is not None else None
    if any(i.required and n not in declared for n, i in inputs.items()):
        return None
    for (check_name, figure), says in NEEDED.items():
        if check_name == name and figure in declared and declared[figure] is None:
            return Finding(name, Verdict.MISSING, f"not measured: {says}", profile=context.profile.name)
    asked = (name, context.profile.name, repr(declared))
    finding = _KNOWN.get(asked)
    if finding is None:
        if len(_KNOWN) >= MOST_KNOWN:
            _KNOWN.clear()
        finding = _KNOWN[asked] = _checked(name, declared, context)
    return finding


def _checked(name: str, declared: Mapping[str, Value], context: Context) -> Finding:
    try:
        return run(name, declared, context)
    except OutOfRange as problem:
        return Finding(name, Verdict.UNDECIDED, str(problem), profile=context.profile.name)


def _loading(part: Part, findings: tuple[Finding, ...], load_a: float | None) -> float | None:
    rated = next(
        (_number(f.values.get("allowable_a")) for f in findings if f.check == "ampacity"), part.number("rating")
    )
    return load_a / rated if load_a is not None and rated else None


def wire_ohm(part: Part) -> float | None:
    """Return the resistance of one wire out and back at 29.3 degC [ohm], None where size or a length is not known."""
    out_m, back_m = part.number("out"), part.number("back")
    if out_m is None or back_m is None or not part.word("size"):
        return None
    return resistance_ohm_per_m(area_mm2(part.word("size")), VERDICT_TEMPERATURE_C) * (out_m + back_m)


def loop_ohm(circuit: Circuit) -> float | None:
    """Return the resistance of all wires out and back at 29.3 degC [ohm], None without one or if one is not known."""
    wires = circuit.of_kind(PartKind.WIRE)
    return total(map(wire_ohm, wires)) if wires else None


def _number(value: Value) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
