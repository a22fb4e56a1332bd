"""What to buy for the planned circuit: what differs from what is there, in lengths with spare."""

from engine.finding import Finding, Verdict
from engine.plan.circuit import DEVICES, Circuit, Part
from engine.plan.judged import Judged
from engine.plan.what_if import main_wire, smallest_passing
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile
from engine.rules.say import short
from engine.trade.shopping import what_to_buy

LUGS = 4
"""Ring terminals of a new pair: both posts, both sides of the breaker [count]. Source: common practice, no source."""


def to_buy(found: Circuit, planned: Judged, profile_name: str) -> tuple[str, ...]:
    """Return one line for each thing to buy; the wire is the smallest size that passes."""
    circuit = planned.circuit
    lines = [
        *_wire(found, circuit, profile_name),
        *_devices(found, circuit, profile_name),
        *_protection(found, planned),
    ]
    return tuple(lines)


def _wire(found: Circuit, planned: Circuit, profile_name: str) -> list[str]:
    wire, old = main_wire(planned), main_wire(found)
    if wire is None or old is None:
        return []
    out_m, back_m = wire.number("out"), wire.number("back")
    if out_m is None or back_m is None:
        return []
    best = smallest_passing(planned, profile_name)
    size = best.size if best else wire.word("size")
    if size == old.word("size"):
        return []
    insulation = wire.number("insulation")
    jacket = f", {short(insulation)} degC jacket" if insulation else ""
    red, black, *rest = what_to_buy(size, out_m, back_m, lugs=LUGS)
    return [
        f"{red.amount:g} m and {black.amount:g} m of {size} stranded copper{jacket}, spare counted in",
        *(f"{i.amount:g} x {i.what}" if i.unit == "pieces" else f"{i.amount:g} m of {i.what}" for i in rest),
        "ends for the receptacle as its maker asks, labels, chafe guards",
    ]


def _devices(found: Circuit, planned: Circuit, profile_name: str) -> list[str]:
    load_a = planned.shared("current")
    factor = float(profile(profile_name).settings["continuous_factor"])
    lines = []
    for part in planned.of_kind(*DEVICES):
        old, new = _figure(found, part, "rating"), part.number("rating")
        if new is not None and new != old:
            least = f" ({short(factor * float(load_a))} A or more)" if isinstance(load_a, int | float) else ""
            lines.append(f"1 {part.name}, {short(new)} A{least}")
    return lines


def _protection(found: Circuit, planned: Judged) -> list[str]:
    nominal = planned.circuit.shared("nominal")
    volts = f", DC volts above the charging volts of a {short(nominal)} V bank" if isinstance(nominal, float) else ""
    lines = []
    for part in planned.circuit.of_kind(PartKind.PROTECTION):
        size = planned.of(part.id).finding("protection-size")
        fitted = part.number("fitted")
        if size is not None and size.verdict is Verdict.FAIL:
            fitted = _in_window(size)
        if fitted is not None and fitted != _figure(found, part, "fitted"):
            reset = ", manual reset" if "manual_reset" in part.figures else ""  # a fuse has none
            lines.append(f"1 {part.name}, {short(fitted)} A{reset}{volts}")
    return lines


def _in_window(size: Finding) -> float | None:
    sizes = size.values.get("sizes_a")
    return (
        max((float(a) for a in sizes if isinstance(a, int | float)), default=None) if isinstance(sizes, tuple) else None
    )


def _figure(circuit: Circuit, like: Part, name: str) -> float | None:
    return next((p.number(name) for p in circuit.parts if p.id == like.id), None)
