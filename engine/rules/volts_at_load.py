"""The volts that reach the load at full power, bank sagging and wire hot, against its maker's least volts."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number
from engine.rules.measured import own_rule, practice
from engine.rules.say import apart, at_least, short
from engine.source import Seen


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load, least = number(given, "load"), number(given, "least_volts")
    ohm = sum(number(given, name) for name in ("internal", "loop", "parts"))
    half, full = (number(given, name) - load * ohm for name in ("half_charged", "full"))
    verdict, remedy = Verdict.PASS, ""
    sentence = f"{short(half, 4)} V at the load from a half-charged bank; it wants {short(least, 4)} V"
    if not at_least(half, least):
        verdict, remedy = Verdict.MARGINAL, "use a larger wire, a shorter run, or a larger bank"
        sentence = f"{apart(half, least)} V at the load from a half-charged bank is under {short(least, 4)} V"
    if not at_least(full, least):
        verdict = Verdict.FAIL
        sentence = f"{apart(full, least)} V at the load, even from a full bank, is under {short(least, 4)} V"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"volts_v": half, "full_v": full, "sag_v": load * number(given, "internal")},
        limits=(Limit("volts", "at least", least, "V"),),
        margin=half - least,
        conditions=("an inner resistance from cranking amps is an upper estimate: the bank may sag less",),
        sum_text=lambda: (
            f"{number(given, 'half_charged'):.4g} V - {load:g} A x ({number(given, 'internal'):.4g} bank + "
            f"{number(given, 'loop'):.4g} wire + {number(given, 'parts'):.4g} parts) ohm = {half:.4g} V"
        ),
        remedy=remedy,
    )


CHECK = Check(
    name="volts-at-load",
    rule="R41",
    title="volts at the load at full power",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("least_volts", "V", "least volts that the load's maker names", 0.5, 1000, worse="more"),
        Input("half_charged", "V", "volts of the half-charged bank at rest", 0.5, 1000, worse="less"),
        Input("full", "V", "volts of the full bank at rest", 0.5, 1000, worse="less"),
        Input("internal", "ohm", "resistance inside the bank", 0, 10, worse="more"),
        Input("loop", "ohm", "resistance of the wires there and back, load on", 0, 100, worse="more"),
        Input("parts", "ohm", "breaker, plug and lugs", 0, 10, default=0.0, worse="more"),
    ),
    judge=_judge,
    sources=(
        own_rule("half charge must do; a full bank alone is marginal"),
        practice("inner resistance of a bank", Seen.MEMORY),
    ),
    gives=(("volts_v", "volts at the load, bank half charged"), ("sag_v", "what the bank itself loses")),
    example=(
        "tugtest check volts-at-load load=48A least_volts=21V half_charged=24.48V full=25.3V internal=0.01363 "
        "loop=0.01464 parts=0.004"
    ),
)
