"""Whether a fuse or breaker is of the right kind: volts, interrupting capacity, reset, vapour."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number, word
from engine.rules.part import Part, worst_part
from engine.rules.say import at_least, short
from engine.rules.sources import CFR_DEVICE, CFR_VAPOUR, COMMON_PRACTICE, E11_INTERRUPTING
from engine.trade.protection import interrupting_a

_CHARGING_SHARE = 4 / 3
"""Highest charging volts over nominal: 32 V on a 24 V bank, 16 V on 12 V. Source: common practice, no source."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    needed, why = _needed_a(given)
    charging = maybe(given, "charging") or _CHARGING_SHARE * number(given, "nominal")
    parts = [_volts(given, charging), _interrupting(given, needed, why), *_mechanism(given), _vapour(given)]
    worst = worst_part(parts)
    others = [part.sentence for part in parts if part is not worst and part.verdict is not Verdict.PASS]
    return Finding(
        CHECK.name,
        worst.verdict,
        worst.sentence
        if worst.verdict is not Verdict.PASS
        else "volts, interrupting capacity, reset and vapour are right",
        values={"needed_interrupting_a": needed, "charging_v": charging},
        limits=_limits(given, needed, charging),
        margin=None
        if needed is None or maybe(given, "interrupting") is None
        else number(given, "interrupting") - needed,
        conditions=tuple(others),
        sum_text=lambda: f"volts: at least {number(given, 'nominal'):g} V, better {charging:g} V\ninterrupting: {why}",
        remedy=worst.remedy,
    )


def _limits(given: Mapping[str, Value], needed: float | None, charging: float) -> tuple[Limit, ...]:
    volts = (Limit("volts", "at least", number(given, "nominal"), "V"), Limit("volts", "at least", charging, "V"))
    return volts if needed is None else (*volts, Limit("interrupting", "at least", needed, "A"))


def _needed_a(given: Mapping[str, Value]) -> tuple[float | None, str]:
    maker, cranking = maybe(given, "short_circuit"), maybe(given, "cca")
    side_by_side = number(given, "parallel")
    if maker is not None:
        strings = f" of each of {side_by_side:g} strings" if side_by_side > 1 else ""
        return maker * side_by_side, f"the battery maker's short-circuit figure, {short(maker, 5)} A{strings}"
    if word(given, "chemistry") != "lead":
        return None, "a lithium bank needs its maker's short-circuit figure"
    if cranking is None:
        return None, "cold-cranking amps of the batteries are not given"
    if number(given, "nominal") not in (12.0, 24.0):
        return None, "the table is for 12 V and 24 V; other banks need the maker's short-circuit figure"
    behind = cranking * side_by_side
    if behind > 2200:
        return None, f"{short(behind, 5)} cranking amps are over 2200: the maker's short-circuit figure is needed"
    table_a = interrupting_a(behind, word(given, "position") == "branch")
    return table_a, f"{table_a:g} A for {short(behind, 5)} cold-cranking amps behind it"


def _volts(given: Mapping[str, Value], charging: float) -> Part:
    volts, nominal = number(given, "volts"), number(given, "nominal")
    if not at_least(volts, nominal):
        return Part(
            Verdict.FAIL, f"rated {short(volts)} V DC on {short(nominal)} V: it may not open", "fit one for the volts"
        )
    if not at_least(volts, charging):
        said = f"rated {short(volts)} V DC; charging may reach {short(charging)} V"
        return Part(Verdict.MARGINAL, said, f"fit one rated {short(charging)} V DC or more")
    return Part(Verdict.PASS, f"rated {short(volts)} V DC")


def _interrupting(given: Mapping[str, Value], needed: float | None, why: str) -> Part:
    if needed is None:
        return Part(Verdict.UNDECIDED, why, "get the maker's short-circuit figure, or fit a high-interrupt fuse")
    rated = maybe(given, "interrupting")
    if rated is None:
        return Part(
            Verdict.MISSING, f"interrupting capacity not read; {needed:g} A is needed", "read it off the breaker"
        )
    if not at_least(rated, needed):
        return Part(Verdict.FAIL, f"interrupts {rated:g} A; needs {why}", f"fit one that interrupts {needed:g} A")
    return Part(Verdict.PASS, f"interrupts {rated:g} A")


def _mechanism(given: Mapping[str, Value]) -> list[Part]:
    if word(given, "kind") == "fuse":
        return []
    parts = []
    if not flag(given, "manual_reset"):
        parts.append(
            Part(Verdict.FAIL, "it resets by itself: it closes onto a short again", "fit a manual-reset breaker")
        )
    if not flag(given, "trip_free"):
        parts.append(Part(Verdict.FAIL, "not trip-free: a held handle keeps a short alive", "fit a trip-free breaker"))
    return parts


def _vapour(given: Mapping[str, Value]) -> Part:
    if flag(given, "vapour") and not flag(given, "ignition_protected"):
        return Part(Verdict.FAIL, "a spark in a petrol space: it must be ignition protected", "fit one, or move it")
    return Part(Verdict.PASS, "no petrol vapour, or ignition protected")


CHECK = Check(
    name="protection-kind",
    rule="R08",
    title="kind of the fuse or breaker",
    inputs=(
        Input("volts", "V", "DC volts it is rated for", 1, 2000, worse="less"),
        Input("nominal", "V", "nominal volts of the bank", 1, 1000),
        Input("interrupting", "A", "what it can interrupt", 1, 200000, required=False, worse="less"),
        Input("cca", "A", "cold-cranking amps of one battery", 50, 5000, required=False, worse="more"),
        Input("parallel", "", "batteries or strings side by side", 1, 50, default=1.0, worse="more"),
        Input("short_circuit", "A", "battery maker's short-circuit figure", 10, 200000, required=False, worse="more"),
        Input("chemistry", "choice", "of the bank", choices=("lead", "lithium"), default="lead"),
        Input("position", "choice", "first behind the bank, or a branch", choices=("main", "branch"), default="main"),
        Input("kind", "choice", "what it is", choices=("breaker", "fuse"), default="breaker"),
        Input("charging", "V", "highest charging volts", 1, 1000, required=False, worse="more"),
        Input("manual_reset", "yes/no", "resets by hand only", default=True, worse="less"),
        Input("trip_free", "yes/no", "trips although the handle is held", default=True, worse="less"),
        Input("vapour", "yes/no", "stands where petrol vapour can be", default=False, worse="more"),
        Input("ignition_protected", "yes/no", "marked ignition protected", default=False, worse="less"),
    ),
    judge=_judge,
    sources=(CFR_DEVICE, CFR_VAPOUR, E11_INTERRUPTING, COMMON_PRACTICE),
    gives=(("needed_interrupting_a", "what it must be able to interrupt"),),
    example="tugtest check protection-kind volts=32V nominal=24V interrupting=3000A cca=800A",
)
