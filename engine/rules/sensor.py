"""A sender or sensor at two states or more: one way, and near its gauge's curve."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import labelled
from engine.rules.measured import GUARD_BAND, own_rule, several, standard_u
from engine.rules.part import Part, worst_part
from engine.rules.say import apart, short
from engine.trade.decision import at_most
from engine.trade.ranges import OutOfRange
from engine.trade.reading import expanded
from engine.trade.sensor import CURVE_PERCENT, direction, off_curve_percent


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    name, usual, unit = ("ohms", "dmm_r", "ohm") if given["ohms"] is not None else ("volts", "dmm_v", "V")
    named, curve = labelled(given, name), several(given, "curve")
    readings = tuple(reading for _, reading in named)
    if len(readings) < 2:
        return Finding(CHECK.name, Verdict.MISSING, "not measured: ohms or volts at two states or more")
    if curve and len(curve) != len(readings):
        raise OutOfRange(f"curve has {len(curve)} figures; it must have one for each of the {len(readings)} readings")
    uncertainties = [expanded(standard_u(name, reading, usual, context)) for reading in readings]
    way = direction(readings, max(uncertainties))
    off = [off_curve_percent(reading, wanted) for reading, wanted in zip(readings, curve, strict=bool(curve))]
    off_u = [100 * u / abs(wanted) for u, wanted in zip(uncertainties, curve, strict=bool(curve))]
    part = worst_part([_follows(off, off_u, [label for label, _ in named]), _moves(way, max(uncertainties), unit)])
    worst = max(off, key=abs, default=None)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"direction": {1: "rises", -1: "falls", 0: "turns"}[way], "worst_off_percent": worst},
        limits=(Limit("off its curve, either side", "at most", CURVE_PERCENT, "%"),),
        margin=None if worst is None else CURVE_PERCENT - abs(worst),
        uncertainty=max(off_u, default=None),
        conditions=("a 5 V sensor dies from 12 V: never feed it from the battery",),
        sum_text=lambda: (
            f"{'; '.join(short(reading) for reading in readings)} {unit}"
            + (f"; curve {'; '.join(short(wanted) for wanted in curve)} {unit}" if curve else "; no curve given")
        ),
        remedy=part.remedy,
    )


def _moves(way: int, uncertainty: float, unit: str) -> Part:
    if way:
        return Part(Verdict.PASS, "")
    text = f"it stands still or turns back; a step counts over {short(uncertainty, 2)} {unit}"
    return Part(Verdict.FAIL, text, "move it through its whole range by hand; if it still sticks, replace it")


def _follows(off: list[float], off_u: list[float], labels: list[str]) -> Part:
    if not off:
        return Part(
            Verdict.MARGINAL, "it moves one way; no curve to hold it against", "ask the gauge's maker for the curve"
        )
    verdicts = [at_most(abs(percent), CURVE_PERCENT, u) for percent, u in zip(off, off_u, strict=True)]
    worst = max(range(len(off)), key=lambda at: (verdicts[at].severity, abs(off[at])))
    percent, verdict, state = abs(off[worst]), verdicts[worst], labels[worst] or f"state {worst + 1}"
    if verdict is Verdict.PASS:
        return Part(verdict, f"it moves one way, {short(percent)} % off its curve at most")
    if verdict is Verdict.UNDECIDED:
        text = f"{short(percent)} % off its curve at {state}, allowed {CURVE_PERCENT:g}: too near to tell"
        return Part(verdict, text, "take the lead resistance off, use a finer range")
    text = f"{apart(percent, CURVE_PERCENT)} % off its curve at {state}, allowed {CURVE_PERCENT:g}"
    return Part(verdict, text, "clean plug and ground; if it stays, sender and gauge do not belong together")


CHECK = Check(
    name="sensor",
    rule="R28",
    title="a sender or sensor through its states",
    inputs=(
        Input("ohms", "ohm", "ohms at each state, in order", 0, 1e7, required=False, many=True, instrument="dmm_r"),
        Input(
            "volts",
            "V",
            "volts at each state, in order, instead of ohms",
            -100,
            100,
            required=False,
            many=True,
            instrument="dmm_v",
        ),
        Input("curve", "", "what the gauge's curve says at each state, ohm or V", -1e7, 1e7, required=False, many=True),
    ),
    judge=_judge,
    sources=(own_rule("within 10 % of the gauge's curve; the maker's own figure wins"), GUARD_BAND),
    gives=(("direction", "rises, falls or turns"), ("worst_off_percent", "largest distance from the curve")),
    example='tugtest check sensor ohms="240 ohm; 110 ohm; 34 ohm" curve="240; 103; 33"',
)
