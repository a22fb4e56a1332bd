"""The drop across one joint under load, scaled to rated current; watts for plug contacts."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import Part, at_worst, worst_part
from engine.rules.say import apart, short
from engine.source import Authority, Seen, Source
from engine.trade.conductor import VERDICT_TEMPERATURE_C, area_mm2, resistance_ohm_per_m
from engine.trade.decision import at_most, band_at_most
from engine.trade.joint import drop_at_v, joint_power_w, joint_resistance_ohm
from engine.trade.reading import combined, expanded, quotient, standard

GOOD_V, BEARABLE_V = 0.050, 0.100
GOOD_W, BEARABLE_W = 3.0, 6.0
"""Limits of one joint at rated current. Source: this project's rule; SAE has 0.1 V a connection (quoted)."""

WIRE_UNSURE = 0.10
"""Share by which the wire between the probes may differ from its sum: 9 % a tinned strand (NFPA 70 table 8), heat."""

CONTACT = "contact"
KINDS = (CONTACT, "stud", "lug", "splice", "switch", "fuse", "breaker")

CLEAN = "open it dead, back to bright copper, clamp again, measure again"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    drop, current, rated = number(given, "drop"), number(given, "current"), number(given, "rated")
    wire_ohm = _wire_ohm(given)
    seen_ohm = joint_resistance_ohm(drop, current)
    u_drop, u_current = standard_u("drop", drop, "dmm_mv", context), standard_u("current", current, "clamp", context)
    u_read = quotient(drop, u_drop, current, u_current) * rated
    u_wire = standard(WIRE_UNSURE * wire_ohm * rated)
    uncertainty = expanded(combined([u_read, u_wire]) if wire_ohm else u_read)
    under_v = drop_at_v(wire_ohm, rated) - drop_at_v(seen_ohm, rated)
    resistance = max(seen_ohm - wire_ohm, 0.0)
    scaled, power = drop_at_v(resistance, rated), joint_power_w(resistance, rated)
    is_contact = word(given, "kind") == CONTACT
    if under_v > uncertainty:
        part = _less_than_wire(drop, drop_at_v(wire_ohm, current))
    else:
        parts = [_by_drop(scaled, uncertainty)]
        if is_contact:
            parts.append(_by_heat(power, uncertainty * rated))
        part = worst_part(parts)
    limits = [Limit("drop at rated current", "at most", 1000 * v, "mV") for v in (GOOD_V, BEARABLE_V)]
    if is_contact:
        limits += [Limit("heat at rated current", "at most", w, "W") for w in (GOOD_W, BEARABLE_W)]
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"resistance_ohm": resistance, "scaled_mv": 1000 * scaled, "power_w": power},
        limits=tuple(limits),
        margin=1000 * (GOOD_V - scaled),
        uncertainty=1000 * uncertainty,
        conditions=("probes on wire and contact, not on the screw",),
        sum_text=lambda: (
            f"r = {_mv(drop)} mV / {short(current)} A{_less(wire_ohm)} = {short(1000 * resistance)} mohm\n"
            f"at {short(rated)} A: {_mv(scaled)} mV, U = {_mv(uncertainty, 2)} mV; P = {short(power)} W"
        ),
        remedy=part.remedy,
    )


def _wire_ohm(given: Mapping[str, Value]) -> float:
    """Return what the wire between the probes has by itself [ohm]; none where no wire is told."""
    length_m = maybe(given, "wire_length")
    if length_m is None or given.get("wire") is None:
        return 0.0
    return length_m * resistance_ohm_per_m(area_mm2(word(given, "wire")), VERDICT_TEMPERATURE_C)


def _less(wire_ohm: float) -> str:
    return f" - {short(1000 * wire_ohm)} mohm of wire" if wire_ohm else ""


def _less_than_wire(drop: float, wire_v: float) -> Part:
    """Return what is said where the reading is less than its wire alone loses, by more than both may differ."""
    text = f"{_mv(drop)} mV is less than the {_mv(wire_v)} mV of the wire between the probes"
    return Part(Verdict.UNDECIDED, text, "look at the length and the size of that wire, then measure again")


def _by_drop(scaled: float, uncertainty: float) -> Part:
    verdict = band_at_most(scaled, GOOD_V, BEARABLE_V, uncertainty)
    shown = f"{_mv(scaled)} mV at rated current"
    if verdict is Verdict.PASS:
        return Part(verdict, f"{shown}, at most {_mv(GOOD_V)} mV")
    limit = GOOD_V if scaled < (GOOD_V + BEARABLE_V) / 2 else BEARABLE_V
    if verdict is Verdict.UNDECIDED:
        text = f"{shown} is within U = {_mv(uncertainty, 2)} mV of {_mv(limit)} mV"
        worst = at_worst(at_most(scaled, BEARABLE_V, uncertainty))
        return Part(verdict, text, "measure again nearer to rated current, with more digits", at_worst=worst)
    over = GOOD_V if verdict is Verdict.MARGINAL else BEARABLE_V
    return Part(verdict, f"{apart(1000 * scaled, 1000 * over)} mV at rated current, over {_mv(over)} mV", CLEAN)


def _by_heat(power: float, uncertainty: float) -> Part:
    verdict = band_at_most(power, GOOD_W, BEARABLE_W, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, f"{short(power)} W at rated current, at most {GOOD_W:g} W")
    limit = GOOD_W if power < (GOOD_W + BEARABLE_W) / 2 else BEARABLE_W
    if verdict is Verdict.UNDECIDED:
        text = f"{short(power)} W in the contact is within U = {short(uncertainty, 2)} W of {limit:g} W"
        worst = at_worst(at_most(power, BEARABLE_W, uncertainty))
        return Part(verdict, text, "measure again nearer to rated current, with more digits", at_worst=worst)
    over = GOOD_W if verdict is Verdict.MARGINAL else BEARABLE_W
    return Part(verdict, f"{apart(power, over)} W in the contact at rated current, over {over:g} W", CLEAN)


def _mv(volts: float, figures: int = 3) -> str:
    return short(1000 * volts, figures)


CHECK = Check(
    name="joint",
    rule="R19",
    title="one joint under load",
    inputs=(
        Input(name="drop", unit="mV", says="drop across the joint, its size", low=0, high=5000, instrument="dmm_mv"),
        Input(
            name="current",
            unit="A",
            says="current at the same moment",
            low=0.01,
            high=2000,
            instrument="clamp",
        ),
        Input(name="rated", unit="A", says="rated current of the load", low=0.01, high=2000),
        Input(
            name="kind",
            unit="choice",
            says="kind of joint; watts are judged for a plug contact only",
            choices=KINDS,
            default=CONTACT,
            required=False,
        ),
        Input(name="wire", unit="wire", says="wire between the probes, beside the joint", required=False),
        Input(name="wire_length", unit="m", says="its length, taken off the drop", low=0, high=20, required=False),
    ),
    judge=_judge,
    sources=(
        own_rule("a joint at rated current: 50 and 100 mV; a plug contact 3 and 6 W"),
        Source(Authority.STANDARD, "SAE, as quoted", "0.1 V a high-current connection, 0.3 V a switch", Seen.QUOTED),
        GUARD_BAND,
    ),
    gives=(
        ("resistance_ohm", "resistance of the joint"),
        ("scaled_mv", "its drop at rated current"),
        ("power_w", "its heat at rated current"),
    ),
    example="tugtest check joint drop=28mV current=48A rated=48A",
)
