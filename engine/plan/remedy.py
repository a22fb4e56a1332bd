"""What to change, a sentence each: the remedy for the weakest part of a circuit first."""

from engine.finding import Verdict
from engine.plan.circuit import DEVICES
from engine.plan.judged import Judged, JudgedPart
from engine.plan.what_if import smallest_passing
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile
from engine.rules.say import short
from engine.trade.protection import next_size_up_a
from engine.trade.ranges import OutOfRange


def remedies(judged: Judged, profile_name: str) -> tuple[str, ...]:
    """Return one change for each part that does not pass, the weakest part first; empty if every part passes."""
    weak = [p for p in judged.parts if p.findings and p.verdict is not Verdict.PASS]
    weak.sort(key=lambda p: (-p.verdict.severity, -(p.loading or 0.0)))
    return tuple(dict.fromkeys(_remedy(judged, part, profile_name) for part in weak))


def _remedy(judged: Judged, weak: JudgedPart, profile_name: str) -> str:
    if weak.part.kind is PartKind.WIRE:
        return _larger_wire(judged, weak, profile_name)
    if weak.part.kind in DEVICES:
        return _larger_device(judged, weak, profile_name)
    return _own_words(weak)


def _larger_wire(judged: Judged, weak: JudgedPart, profile_name: str) -> str:
    drop = weak.finding("voltage-drop")
    if weak.verdict is Verdict.MISSING:
        return _own_words(weak)
    better = smallest_passing(judged.circuit, profile_name)
    if better is None or drop is None:
        return "no listed size passes: shorten the run, or ask a marine electrician"
    now = drop.values.get("drop_percent")
    was = f"{now:.1f} %" if isinstance(now, float) else "the drop"
    warm = f", {better.hot_drop_percent:.1f} % warm" if better.hot_drop_percent is not None else ""
    return f"{better.size} brings {was} to {better.drop_percent:.1f} %{warm}: passes"


def _larger_device(judged: Judged, weak: JudgedPart, profile_name: str) -> str:
    load_a = judged.circuit.shared("current")
    if not isinstance(load_a, int | float):
        return _own_words(weak)
    try:
        wanted_a = next_size_up_a(float(profile(profile_name).settings["continuous_factor"]) * load_a)
    except OutOfRange:
        return _own_words(weak)
    return f"a {weak.part.name} rated {short(wanted_a)} A or more for {short(load_a)} A"


def _own_words(weak: JudgedPart) -> str:
    """Return what the worst finding on a part says itself."""
    worst = max(weak.findings, key=lambda f: f.verdict.severity)
    return f"{weak.part.name}: {worst.remedy or worst.sentence}"
