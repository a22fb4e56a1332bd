"""Solar panels against their controller: volts on the coldest morning, and the current to design for."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.part import Part, worst_part
from engine.rules.say import apart, at_most, short
from engine.source import Authority, Seen, Source
from engine.trade.solar import CONTINUOUS_FACTOR, cold_open_circuit_v, design_current_a

ISC = Input("isc", "A", "short-circuit current on the label", 0.001, 100, worse="more")
STRINGS = Input("strings", "", "strings side by side", 1, 100, default=1.0, worse="more")
"""What a panel's label says, as both checks of it ask."""

_NEC_690 = Source(Authority.STANDARD, "NFPA 70 (NEC)", "690.8, 1.25 x 1.25", Seen.QUOTED)
_LABEL = Source(Authority.PRACTICE, "panel and controller labels", "linear coefficient of open volts", Seen.MEMORY)


_VOLTS_GOOD = Part(Verdict.PASS, "volts within the controller")
_AMPS_GOOD = Part(Verdict.PASS, "current within the controller")
_WIRE_GOOD = Part(Verdict.PASS, "current within the wire")


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    isc, strings = number(given, "isc"), number(given, "strings")
    design_a = design_current_a(isc, strings)
    voc, coldest, coefficient = number(given, "voc"), number(given, "coldest"), number(given, "coefficient")
    cold_v, panel_a = cold_open_circuit_v(voc, coldest, coefficient), isc * strings
    most_v, most_a = number(given, "controller_volts"), number(given, "controller_amps")
    parts = [_volts(most_v, cold_v), _amps(most_a, panel_a), _wire(given, design_a)]
    worst = worst_part(parts)
    said = worst.sentence
    others: tuple[str, ...] = ()
    if worst.verdict is not Verdict.PASS:
        others = tuple(p.sentence for p in parts if p is not worst and p.verdict is not Verdict.PASS)
    else:
        said = f"{short(cold_v)} V cold and {short(panel_a)} A are within the controller; wire for {short(design_a)} A"
    return Finding(
        CHECK.name,
        worst.verdict,
        said,
        values={"design_a": design_a, "cold_voc_v": cold_v, "panel_a": panel_a},
        limits=(
            Limit("cold volts", "at most", most_v, "V"),
            Limit("panel current", "at most", most_a, "A"),
        ),
        margin=most_v - cold_v,
        conditions=others,
        sum_text=lambda: (
            f"I = 1.25 x 1.25 x {isc:g} A x {strings:g} = {design_a:.4g} A\n"
            f"Voc = {voc:g} V x (1 + {abs(coefficient):g} %/K x (25 - {coldest:g}) K) = {cold_v:.4g} V"
        ),
        remedy=worst.remedy,
    )


def _volts(limit: float, cold_v: float) -> Part:
    if at_most(cold_v, limit):
        return _VOLTS_GOOD
    said = f"{apart(cold_v, limit)} V on a cold morning is over the controller's {short(limit)} V"
    return Part(Verdict.FAIL, said, "fewer panels in series, or a controller for more volts")


def _amps(limit: float, panel_a: float) -> Part:
    if not at_most(panel_a, limit):
        said = f"{apart(panel_a, limit)} A of panels is over the controller's {short(limit)} A"
        return Part(Verdict.FAIL, said, "fewer strings, or a larger controller")
    if not at_most(CONTINUOUS_FACTOR * panel_a, limit):
        said = f"{short(CONTINUOUS_FACTOR * panel_a)} A in strong sun is over the controller's {short(limit)} A"
        return Part(Verdict.MARGINAL, said, "a larger controller")
    return _AMPS_GOOD


def _wire(given: Mapping[str, Value], design_a: float) -> Part:
    allowable = maybe(given, "allowable")
    if allowable is None or at_most(design_a, allowable):
        return _WIRE_GOOD
    said = f"wire for {apart(design_a, allowable)} A is needed; this one may carry {short(allowable)} A"
    return Part(Verdict.FAIL, said, "use a larger wire")


CHECK = Check(
    name="solar",
    rule="R25",
    title="solar panels and their controller",
    inputs=(
        ISC,
        STRINGS,
        Input("voc", "V", "open-circuit volts of a string", 0.1, 1000, worse="more"),
        Input("coldest", "degC", "coldest air with sun on the panel", -60, 60, worse="less"),
        Input("coefficient", "%", "change of open volts per kelvin", -1, 1, default=-0.35),
        Input("controller_volts", "V", "most panel volts the controller takes", 1, 1000, worse="less"),
        Input("controller_amps", "A", "most current the controller takes", 0.1, 500, worse="less"),
        Input("allowable", "A", "what the wire may carry (ampacity)", 0.1, 2000, required=False, worse="less"),
    ),
    judge=_judge,
    sources=(_NEC_690, _LABEL),
    gives=(("design_a", "current to design wire and fuse for"), ("cold_voc_v", "open volts on the coldest morning")),
    example="tugtest check solar isc=8.6 voc=22.5 coldest=-10 coefficient=0.305 controller_volts=50 controller_amps=20",
)
