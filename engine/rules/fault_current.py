"""A short at the far end of a run: whether fuse or breaker trips on it, as an arc too, and if the wire bears it."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import own_rule, practice, standard_u
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import short
from engine.rules.sources import IEC_SHORT
from engine.rules.wire_place import INSULATION
from engine.source import Seen
from engine.trade.conductor import area_mm2
from engine.trade.protection import loop_fault_a
from engine.trade.reading import expanded
from engine.trade.withstand import ARCING_SHARE, TRIP_S, trip_s, withstand_s

_SURE, _LATE = 5.0, 2.0
"""Multiples of its rating at which a breaker trips at once, and late. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    volts, internal, loop = (number(given, name) for name in ("open_circuit", "internal", "loop"))
    current_a = loop_fault_a(volts, internal, loop)
    near_a = loop_fault_a(volts, internal, 0.0) if internal > 0 else None
    relative_u = expanded(standard_u("open_circuit", volts, "dmm_v", context)) / volts
    parts = [_trips(given, current_a, relative_u), _interrupts(given, near_a)]
    fitted, bears_s = maybe(given, "fitted"), None
    if fitted is not None:
        bears_s = _bears_s(given, current_a)
        parts += [*_arc(fitted, current_a), *_electronics(given, fitted), *_wire(given, fitted, current_a, bears_s)]
    worst = worst_part(parts)
    return Finding(
        CHECK.name,
        worst.verdict,
        worst.sentence,
        values={
            "current_a": current_a,
            "arcing_a": ARCING_SHARE * current_a,
            "source_current_a": near_a,
            "trip_multiple": None if fitted is None else current_a / fitted,
            "withstand_s": bears_s,
        },
        limits=() if fitted is None else (Limit("current", "at least", _SURE * fitted, "A"),),
        margin=None if fitted is None else current_a - _SURE * fitted,
        uncertainty=relative_u * current_a,
        conditions=(
            "an inner resistance from cranking amps says if it trips, not what it must interrupt",
            *(part.sentence for part in parts if part is not worst and part.verdict is not Verdict.PASS),
        ),
        sum_text=lambda: _sum(given, current_a, bears_s),
        remedy=worst.remedy,
    )


def _trips(given: Mapping[str, Value], current_a: float, relative_u: float) -> Part:
    fitted = maybe(given, "fitted")
    if fitted is None:
        said = f"a short at the far end draws {short(current_a)} A; no fuse or breaker named"
        return Part(Verdict.MISSING, said, "name the fuse or breaker")
    multiple = current_a / fitted
    said = f"a short draws {short(current_a)} A, {{}} its {short(fitted)} A"
    mend, settle = "use a larger wire, or a smaller fuse", "measure the bank's volts finer"
    return Band(what=said, good=_SURE, bearable=_LATE, unit="times", least=True, mend=mend, settle=settle).part(
        multiple, relative_u * multiple
    )


def _arc(fitted: float, current_a: float) -> list[Part]:
    """Return what is wrong if the short is an arc or a loose contact, which draws a share of a dead short."""
    multiple = ARCING_SHARE * current_a / fitted
    if multiple >= _LATE:
        return []
    said = f"a short through an arc draws {short(ARCING_SHARE * current_a)} A, {short(multiple)} times its rating"
    return [Part(Verdict.MARGINAL, f"{said}: it trips late", "use a larger wire, or a smaller fuse")]


def _electronics(given: Mapping[str, Value], fitted: float) -> list[Part]:
    """Return what is wrong if the battery's own electronics let go of a short before fuse or breaker."""
    limit = maybe(given, "electronics")
    if limit is None or limit >= _SURE * fitted:
        return []
    said = f"the battery's electronics let go at {short(limit)} A, {short(limit / fitted)} times its rating: before it"
    return [Part(Verdict.MARGINAL, said, "use a smaller fuse; learn how the battery is switched on again")]


def _bears_s(given: Mapping[str, Value], current_a: float) -> float | None:
    size = word(given, "size")
    if not size:
        return None
    return withstand_s(area_mm2(size), current_a, number(given, "metal"), number(given, "insulation"))


def _wire(given: Mapping[str, Value], fitted: float, current_a: float, bears_s: float | None) -> list[Part]:
    """Return what is wrong if the wire's jacket softens before the short is cleared."""
    if bears_s is None:
        return []
    fast, slow = trip_s(word(given, "kind"), fitted, current_a)
    said = f"{word(given, 'size')} bears the {short(current_a)} A for {short(bears_s, 2)} s; a"
    remedy = "use a larger wire, or a smaller fuse"
    if bears_s < fast:
        return [Part(Verdict.FAIL, f"{said} {word(given, 'kind')} takes {short(fast, 2)} s or more", remedy)]
    if bears_s < (fast * slow) ** 0.5:
        return [Part(Verdict.MARGINAL, f"{said} {word(given, 'kind')} may take {short(slow, 2)} s", remedy)]
    return []


def _interrupts(given: Mapping[str, Value], near_a: float | None) -> Part:
    rated = maybe(given, "interrupting")
    if rated is None or near_a is None or near_a <= rated:
        return Part(Verdict.PASS, "interrupting capacity: see protection-kind")
    said = f"a short at the bank draws {short(near_a, 4)} A; it interrupts {short(rated, 4)} A"
    return Part(Verdict.FAIL, said, "fit one that interrupts more")


def _sum(given: Mapping[str, Value], current_a: float, bears_s: float | None) -> str:
    said = (
        f"I = {given['open_circuit']:.4g} V / ({given['internal']:.4g} + {given['loop']:.4g}) ohm = {current_a:.4g} A; "
        f"through an arc {ARCING_SHARE:g} x that"
    )
    return said if bears_s is None else f"{said}\nwire: t = (k S / I)^2 = {bears_s:.3g} s"


CHECK = Check(
    name="fault-current",
    rule="R38",
    title="short at the far end",
    inputs=(
        Input("open_circuit", "V", "volts of the bank at rest", 1, 1000, instrument="dmm_v"),
        Input("internal", "ohm", "resistance inside the bank", 0, 10),
        Input("loop", "ohm", "resistance of wires and parts there and back", 0, 100, worse="more"),
        Input("fitted", "A", "rating of the fuse or breaker", 0.1, 6000, required=False, worse="more"),
        Input("interrupting", "A", "what it can interrupt", 1, 200000, required=False, worse="less"),
        Input("kind", "choice", "what it is", choices=tuple(TRIP_S), default="breaker", worse="less"),
        Input("size", "wire", "weakest wire of the run", required=False, worse="less"),
        Input("metal", "degC", "its copper with the load on", -40, 300, default=90.0, worse="more"),
        INSULATION,
        Input("electronics", "A", "at what the battery lets go itself", 0.1, 200000, required=False, worse="less"),
    ),
    judge=_judge,
    sources=(
        own_rule("five times its rating at the far end, twice through an arc"),
        practice("inner resistance of a bank; 30 % through an arc; time to trip", Seen.MEMORY),
        IEC_SHORT,
    ),
    gives=(
        ("current_a", "short at the far end"),
        ("arcing_a", "the same through an arc"),
        ("source_current_a", "short at the bank"),
        ("withstand_s", "how long the wire bears it"),
    ),
    example="tugtest check fault-current open_circuit=24.9V internal=0.012 loop=0.02143 fitted=50A",
)
