"""The current of a dead short at the far end of a run, and whether the fuse or breaker trips on it."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import own_rule, practice, standard_u
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import short
from engine.source import Seen
from engine.trade.protection import loop_fault_a
from engine.trade.reading import expanded

_SURE, _LATE = 5.0, 2.0
"""Multiples of its rating at which a breaker trips at once, and late. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    volts, internal, loop = (number(given, name) for name in ("open_circuit", "internal", "loop"))
    current_a = loop_fault_a(volts, internal, loop)
    near_a = loop_fault_a(volts, internal, 0.0) if internal > 0 else None
    relative_u = expanded(standard_u("open_circuit", volts, "dmm_v", context)) / volts
    parts = [_trips(given, current_a, relative_u), _interrupts(given, near_a)]
    worst = worst_part(parts)
    fitted = maybe(given, "fitted")
    return Finding(
        CHECK.name,
        worst.verdict,
        worst.sentence,
        values={
            "current_a": current_a,
            "source_current_a": near_a,
            "trip_multiple": None if fitted is None else current_a / fitted,
        },
        limits=() if fitted is None else (Limit("current", "at least", _SURE * fitted, "A"),),
        margin=None if fitted is None else current_a - _SURE * fitted,
        uncertainty=relative_u * current_a,
        conditions=("an inner resistance from cranking amps says if it trips, not what it must interrupt",),
        sum_text=lambda: f"I = {volts:.4g} V / ({internal:.4g} + {loop:.4g}) ohm = {current_a:.4g} A",
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


def _interrupts(given: Mapping[str, Value], near_a: float | None) -> Part:
    rated = maybe(given, "interrupting")
    if rated is None or near_a is None or near_a <= rated:
        return Part(Verdict.PASS, "interrupting capacity: see protection-kind")
    said = f"a short at the bank draws {short(near_a, 4)} A; it interrupts {short(rated, 4)} A"
    return Part(Verdict.FAIL, said, "fit one that interrupts more")


CHECK = Check(
    name="fault-current",
    rule="R38",
    title="short at the far end",
    inputs=(
        Input("open_circuit", "V", "volts of the bank at rest", 1, 1000, instrument="dmm_v"),
        Input("internal", "ohm", "resistance inside the bank", 0, 10),
        Input("loop", "ohm", "resistance of the wires there and back", 0, 100, worse="more"),
        Input("fitted", "A", "rating of the fuse or breaker", 0.1, 6000, required=False, worse="more"),
        Input("interrupting", "A", "what it can interrupt", 1, 200000, required=False, worse="less"),
    ),
    judge=_judge,
    sources=(own_rule("five times its rating at the far end"), practice("inner resistance of a bank", Seen.MEMORY)),
    gives=(("current_a", "short at the far end"), ("source_current_a", "short at the bank")),
    example="tugtest check fault-current open_circuit=24.9V internal=0.012 loop=0.02143 fitted=50A",
)
