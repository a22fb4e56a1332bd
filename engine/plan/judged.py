"""The findings on each part of a circuit: which checks fit which part, and where their inputs come from."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from engine.finding import Finding, Value, Verdict, worst
from engine.plan.bank import bank_figures
from engine.plan.circuit import DEVICES, Circuit, Part, as_number
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile
from engine.rules.check import Context
from engine.rules.given import number, word
from engine.rules.registry import check, run
from engine.rules.voltage_drop import drop_of
from engine.trade.conductor import area_mm2
from engine.trade.drop import RunDrop
from engine.trade.loading import device_ohm
from engine.trade.ranges import OutOfRange
from engine.trade.withstand import withstand_s

CHECKS: Mapping[PartKind, tuple[str, ...]] = {
    PartKind.WIRE: ("ampacity", "voltage-drop"),
    PartKind.PROTECTION: ("protection-size", "protection-place", "protection-kind", "fault-current"),
    PartKind.RECEPTACLE: ("weakest-part",),
    PartKind.PLUG: ("weakest-part",),
    PartKind.SWITCH: ("weakest-part",),
    PartKind.LOAD: ("volts-at-load",),
}
"""The checks on a part before any work, by its kind."""

SHARED = ("nominal", "class", "continuous", "self_limiting", "maker_size", "inrush", "short_circuit", "charging")
"""Figures that one part carries for all."""

NEEDED: Mapping[tuple[str, str], str] = {
    ("voltage-drop", "extra"): "the other wires of this run",
    ("protection-kind", "parallel"): "how many batteries, and the volts of each",
}
"""Inputs that a check may do without and a circuit may not: what is not known there is missing, never nothing."""


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

    def not_passed(self) -> tuple[tuple[Part, Finding], ...]:
        """Return every finding that is not a pass with its part, the worst first, of equals those on a wire."""
        found = [(p.part, f) for p in self.parts for f in p.findings if f.verdict is not Verdict.PASS]
        return tuple(sorted(found, key=lambda each: (-each[1].verdict.severity, each[0].kind is not PartKind.WIRE)))


def judge_circuit(circuit: Circuit, profile_name: str) -> Judged:
    """Return every part of ``circuit`` with its findings under a rule profile."""
    context = Context(profile(profile_name))
    load_a = circuit.number("current")
    known: dict[str, Value] = {name: circuit.shared(name) for name in SHARED if circuit.declares(name)}
    known |= bank_figures(circuit)
    known |= {"load": load_a, "device": device_a(circuit), "parts": parts_ohm(circuit)}
    known |= {"cca": circuit.shared("cranking"), "vapour": circuit.shared("fuel_vapour")}
    runs = {part.id: wire_run(part, load_a) for part in circuit.of_kind(PartKind.WIRE)}
    wires = {id: _findings(circuit.part(id), known | _others(id, runs), context) for id in runs}
    for name, value in (("allowable", "allowable_a"), ("table_allowable", "table_a")):
        allowed = [as_number(f.values.get(value)) for found in wires.values() for f in found]
        known[name] = min((a for a in allowed if a is not None), default=None)
    far = known | _far_end(circuit, runs)
    parts = []
    for part in circuit.parts:
        findings = wires[part.id] if part.id in wires else _findings(part, far, context)
        parts.append(JudgedPart(part, findings, _loading(part, findings, load_a)))
    return Judged(circuit, tuple(parts))


def device_a(circuit: Circuit) -> float | None:
    """Return the lowest rating of receptacle, plug and switch [A], None if none is known."""
    return min((r for p in circuit.of_kind(*DEVICES) if (r := p.number("rating")) is not None), default=None)


def parts_ohm(circuit: Circuit) -> float:
    """Return what breaker, plug, switch and joints have together [ohm], lugs counted in."""
    load_a = circuit.number("current")
    return sum(part_ohm(part, load_a) for part in circuit.parts)


def part_ohm(part: Part, load_a: float | None) -> float:
    """Return what a part that is no wire has [ohm]: as read, else by its rating.

    One without a rating is taken as rated for the load, since it must be that at least; a joint belongs to the lugs of
    the parts beside it.
    """
    read = part.number("resistance")
    if read is not None or part.kind not in (PartKind.PROTECTION, *DEVICES):
        return read or 0.0
    rated = part.number("fitted" if part.kind is PartKind.PROTECTION else "rating")
    rated_a = load_a if rated is None else rated
    return device_ohm(rated_a) if rated_a and 0 < rated_a <= HIGHEST_A else 0.0


def wire_run(part: Part, load_a: float | None) -> RunDrop | None:
    """Return the drop of one wire alone under a load, None where its size, a length or the load is not known."""
    known = {"load": load_a, **part.figures}
    if not load_a or any(known.get(name) is None for name in ("size", "out", "back")):
        return None
    try:
        return drop_of(known)
    except OutOfRange:
        return None


def wire_ohm(part: Part) -> float | None:
    """Return the resistance of one wire out and back at 29.3 degC [ohm], None where size or a length is not known."""
    run = wire_run(part, 1.0)
    return None if run is None else run.loop_ohm


def loop_ohm(circuit: Circuit) -> float | None:
    """Return the resistance of all wires out and back at 29.3 degC [ohm], None without one or if one is not known."""
    wires = circuit.of_kind(PartKind.WIRE)
    return _sums(wire_run(part, 1.0) for part in wires)[0] if wires else None


def hot_ohm(run: RunDrop) -> float:
    """Return the resistance that a load brings a wire to [ohm]; as cold where the wire is too hot for the sum."""
    return run.loop_ohm * run.hot_drop_v / run.drop_v if run.hot_drop_v is not None and run.drop_v else run.loop_ohm


Runs = Mapping[str, RunDrop | None]


def _sums(runs: Iterable[RunDrop | None]) -> tuple[float | None, float | None]:
    """Return what some wires have together, cold and with the load on [ohm], None if one is not known."""
    cold = hot = 0.0
    for each in runs:
        if each is None:
            return None, None
        cold, hot = cold + each.loop_ohm, hot + hot_ohm(each)
    return cold, hot


def _others(id: str, runs: Runs) -> dict[str, Value]:
    """Return what the other wires of the run have, cold and with the load on [ohm]."""
    cold, hot = _sums(run for other, run in runs.items() if other != id)
    return {"extra": cold, "extra_hot": hot}


def _far_end(circuit: Circuit, runs: Runs) -> dict[str, Value]:
    """Return what a short at the far end and the load there see: the loop, cold and hot, and the weakest wire."""
    shorted = [as_shorted(part, each) for part in circuit.of_kind(PartKind.WIRE) if (each := runs[part.id])]
    cold, hot = _sums(runs.values()) if runs else (None, None)
    found: dict[str, Value] = {"wires_hot": hot, "loop": None if cold is None else cold + parts_ohm(circuit)}
    return found | min(shorted, key=_bears_s, default={})


def as_shorted(part: Part, run: RunDrop) -> dict[str, Value]:
    """Return what a short does to a wire by: ``size``, ``insulation``, and ``metal``, its copper with the load on."""
    metal_c = min(run.hot_temperature_c, HOTTEST_C)
    insulation_c = as_number(check("fault-current").defaults["insulation"])
    return {"size": part.word("size"), "insulation": part.number("insulation") or insulation_c, "metal": metal_c}


def _bears_s(wire: Mapping[str, Value]) -> float:
    """Return how long a wire bears 1 A [s], by which wires are held against each other."""
    area = area_mm2(word(wire, "size"))
    return withstand_s(area, 1.0, number(wire, "metal"), number(wire, "insulation"))


HIGHEST_A = 6000.0
"""The highest rating that a device has [A]: beyond it its own finding says so. Source: NFPA 70 (NEC) 240.6(A)."""

HOTTEST_C = 300.0
"""The hottest copper that a short is reckoned from [degC]: no jacket stands it."""


def _findings(part: Part, known: Mapping[str, Value], context: Context) -> tuple[Finding, ...]:
    return tuple(f for name in CHECKS.get(part.kind, ()) if (f := _run(name, part, known, context)) is not None)


def _run(name: str, part: Part, known: Mapping[str, Value], context: Context) -> Finding | None:
    wanted = check(name)
    own = _own(name, part, known)
    given = {n: v for n, v in {**known, **part.figures, **own}.items() if n in wanted.known}
    if any(n not in given for n in wanted.required) or (name == "volts-at-load" and given["least_volts"] is None):
        return None
    for (check_name, figure), says in NEEDED.items():
        if check_name == name and figure in given and given[figure] is None:
            return Finding(name, Verdict.MISSING, f"not measured: {says}", profile=context.profile.name)
    try:
        return run(name, given, context)
    except OutOfRange as problem:
        return Finding(name, Verdict.UNDECIDED, str(problem), profile=context.profile.name)


def _own(name: str, part: Part, known: Mapping[str, Value]) -> dict[str, Value]:
    """Return the inputs of a check that the circuit fills in a way of its own."""
    if name == "weakest-part":
        rating = part.figures.get("rating")
        contact = part.kind is not PartKind.SWITCH and known.get("continuous") is not False
        return {"ratings": None if rating is None else ((part.name, rating),), "continuous": contact}
    if name == "volts-at-load":
        return {"loop": known["wires_hot"]}
    found: dict[str, Value] = {}
    if "fuse" in part.figures:
        found["kind"] = "fuse" if part.figures["fuse"] is True else "breaker"
    if name == "fault-current":
        found["interrupting"] = None  # an inner resistance from cranking amps never tells it; protection-kind does
    return found


def _loading(part: Part, findings: tuple[Finding, ...], load_a: float | None) -> float | None:
    rated = next(
        (as_number(f.values.get("allowable_a")) for f in findings if f.check == "ampacity"), part.number("rating")
    )
    return load_a / rated if load_a is not None and rated else None
