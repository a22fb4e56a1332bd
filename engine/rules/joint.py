"""The drop across one joint under load, scaled to rated current; watts for plug contacts."""

from collections.abc import Mapping
from dataclasses import replace

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import NOT_BELIEVED, Band, Part, worst_part
from engine.rules.say import short
from engine.rules.wire_place import CONDUCTOR
from engine.source import Authority, Seen, Source
from engine.trade.conductor import VERDICT_TEMPERATURE_C, conductor_ohm_per_m
from engine.trade.joint import drop_at_v, joint_power_w, joint_resistance_ohm
from engine.trade.reading import combined, expanded, quotient, standard

WIRE_UNSURE = 0.10
"""Share by which the wire between the probes may differ from its sum: its strands, its heat. Source: this project's
rule; a tinned strand has up to 9 % more (NFPA 70 table 8)."""

LEAST_OHM = 5e-6
"""Less than a bolted joint of copper has [ohm]. Source: common practice, from memory: 5 to 50 micro-ohm."""

CONTACT, FUSE, SWITCH = "contact", "fuse", "switch"
JOINTS = (CONTACT, "stud", "lug", "splice")
KINDS = (*JOINTS, SWITCH, FUSE)

_AGAIN = "measure again nearer to rated current, with more digits"


def _drop_band(kind: str, good_mv: float, bearable_mv: float, mend: str) -> Band:
    what = "drop at rated current" if kind in JOINTS else f"drop of the {kind} at rated current"
    return Band(what=what, good=good_mv, bearable=bearable_mv, unit="mV", mend=mend, settle=_AGAIN)


_CLEAN = "open it dead, back to bright copper, clamp again, measure again"
DROPS = {
    **{kind: _drop_band(kind, 50, 100, _CLEAN) for kind in JOINTS},
    SWITCH: _drop_band(
        SWITCH, 150, 300, "read at its own terminals; if it is the switch, work it ten times, or renew it"
    ),
    FUSE: _drop_band(FUSE, 150, 200, "read at the blades of the fuse; then clean its holder, or fit another fuse"),
}
"""Drop at rated current by the kind of joint [mV]. Sources: a joint 0.1 V and a switch 0.3 V by SAE, as quoted; half of
that is good by this project's rule. A fuse: a blade fuse loses 68 to 77 mV at its rating by a printed table (quoted),
twice that is this project's rule."""

HEAT = Band(what="heat of the contact at rated current", good=3.0, bearable=6.0, unit="W", mend=_CLEAN, settle=_AGAIN)
"""Heat of a plug contact. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    drop, current, rated = number(given, "drop"), number(given, "current"), number(given, "rated")
    wire_ohm, kind = _wire_ohm(given), word(given, "kind")
    seen_ohm = joint_resistance_ohm(drop, current)
    u_drop, u_current = standard_u("drop", drop, "dmm_mv", context), standard_u("current", current, "clamp", context)
    u_read = quotient(drop, u_drop, current, u_current) * rated
    u_wire = standard(WIRE_UNSURE * wire_ohm * rated)
    uncertainty = expanded(combined([u_read, u_wire]) if wire_ohm else u_read)
    resistance = max(seen_ohm - wire_ohm, 0.0)
    scaled, power = drop_at_v(resistance, rated), joint_power_w(resistance, rated)
    bands = {DROPS[kind]: (1000 * scaled, 1000 * uncertainty)}
    if kind == CONTACT:
        bands[HEAT] = (power, uncertainty * rated)
    doubt = _doubt(drop, seen_ohm, drop_at_v(wire_ohm, current), (wire_ohm - seen_ohm) * rated > uncertainty)
    part = doubt or worst_part([band.part(*value) for band, value in bands.items()])
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"resistance_ohm": resistance, "scaled_mv": 1000 * scaled, "power_w": power},
        limits=tuple(limit for band in bands for limit in band.limits),
        margin=DROPS[kind].good - 1000 * scaled,
        uncertainty=1000 * uncertainty,
        conditions=("probes on wire and contact, not on the screw", *((NOT_BELIEVED,) if doubt else ())),
        sum_text=lambda: (
            f"r = {_mv(drop)} mV / {short(current)} A{_less(wire_ohm)} = {short(1000 * resistance)} mohm\n"
            f"at {short(rated)} A: {_mv(scaled)} mV, give or take {_mv(uncertainty, 2)} mV; P = {short(power)} W"
        ),
        remedy=part.remedy,
    )


def _wire_ohm(given: Mapping[str, Value]) -> float:
    """Return what the wire between the probes has by itself [ohm]; none where no wire is told."""
    length_m = maybe(given, "wire_length")
    if length_m is None or given.get("wire") is None:
        return 0.0
    return length_m * conductor_ohm_per_m(word(given, "wire"), VERDICT_TEMPERATURE_C, word(given, "conductor"))


def _less(wire_ohm: float) -> str:
    return f" - {short(1000 * wire_ohm)} mohm of wire" if wire_ohm else ""


def _doubt(drop: float, seen_ohm: float, wire_v: float, under_wire: bool) -> Part | None:
    """Return what is said of a reading that no joint can give: nothing at all, or less than the wire beside it."""
    if under_wire:
        text = f"{_mv(drop)} mV is less than the {_mv(wire_v)} mV of the wire between the probes"
        return Part(Verdict.UNDECIDED, text, "look at the length and the size of that wire, then measure again")
    if seen_ohm >= LEAST_OHM:
        return None
    text = f"{_mv(drop)} mV under load: the probe may not touch metal"
    return Part(Verdict.UNDECIDED, text, "scratch both probes through to bright metal, load on, read again")


def _mv(volts: float, figures: int = 3) -> str:
    return short(1000 * volts, figures)


CHECK = Check(
    name="joint",
    rule="R19",
    title="one joint under load",
    inputs=(
        Input("drop", "mV", "drop across the joint, its size", 0, 5000, instrument="dmm_mv", worse="more"),
        Input("current", "A", "current at the same moment", 0.01, 2000, instrument="clamp", worse="less"),
        Input("rated", "A", "rated current of the load", 0.01, 2000, worse="more"),
        Input(
            "kind", "choice", "kind of joint; watts are judged for a plug contact only", choices=KINDS, default=CONTACT
        ),
        Input("wire", "wire", "wire between the probes, beside the joint", required=False),
        Input("wire_length", "m", "its length, taken off the drop", 0, 20, required=False),
        replace(CONDUCTOR, worse="less"),
    ),
    judge=_judge,
    sources=(
        own_rule("a joint at rated current: 50 and 100 mV; a plug contact 3 and 6 W; a fuse 150 and 200 mV"),
        Source(Authority.STANDARD, "SAE, as quoted", "0.1 V a high-current connection, 0.3 V a switch", Seen.QUOTED),
        Source(Authority.PRACTICE, "a fuse table", "1 mV of a 10 A blade fuse is 0.13 A", Seen.QUOTED),
        GUARD_BAND,
    ),
    gives=(
        ("resistance_ohm", "resistance of the joint"),
        ("scaled_mv", "its drop at rated current"),
        ("power_w", "its heat at rated current"),
    ),
    example="tugtest check joint drop=28mV current=48A rated=48A",
)
